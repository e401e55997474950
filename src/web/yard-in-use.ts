import type { YardHints } from '../read.ts'
import type { YardForRules } from '../rules/settings.ts'
import { parseYard, readerHints } from '../yard.ts'

/** The yard file as the page uses it: the reader's part and the rules'. */
export interface YardInUse {
  readonly hints: YardHints
  readonly rules: YardForRules
}

/** The yard file that was put into this page. Throws one sentence for a file that cannot be used. */
export function yardFromText(text: string): YardInUse {
  const yard = parseYard(text, 'yard file')
  const { region, equipment, hives, rules } = yard
  return {
    hints: readerHints(yard),
    rules: {
      ...(region && { region }),
      ...(equipment && { equipment }),
      ...(hives && { hives: hives.map(({ name: _, said: __, apiary: ___, ...rest }) => rest) }),
      ...(rules && { rules }),
    },
  }
}
