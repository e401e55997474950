import * as z from '../../zod.ts'
import { checked, firstObject, maybe, unitOrUnset } from '../json-shape.ts'
import { known } from '../known.ts'
import { layOut } from '../lay-out.ts'
import type { Format } from '../source.ts'

/**
 * A phone's recogniser intent: hypotheses, best first, and their confidences in a list beside (-1: none), under the
 * platform's long names or short ones. On all words of the best hypothesis alike.
 */
export const android: Format = {
  id: 'android',
  title: 'Android recogniser results',
  detect: (source) => checkedShape(firstObject(source)),
  open(source) {
    const found = checked(schema, shorten(firstObject(source)), source, android.title)
    const [best = '', ...alternatives] = found.results
    const piece = { text: best, ...known({ confidence: found.confidence_scores?.[0] }) }
    return layOut([{ ...piece, ...(alternatives.length > 0 && { alternatives }) }], 'vendor')
  },
}

const schema = z.object({
  results: z.array(z.string()).check(z.minLength(1)),
  confidence_scores: maybe(z.array(unitOrUnset)),
})

/** `android.speech.extra.RESULTS` and `results_recognition` are the list of strings in different calls. */
function shorten(value: Record<string, unknown> | undefined): Record<string, unknown> {
  const short = Object.entries(value ?? {}).map(
    ([key, inner]) => [key.replace(/^.*\./, '').toLowerCase(), inner] as const,
  )
  return Object.fromEntries(short.map(([key, inner]) => [key === 'results_recognition' ? 'results' : key, inner]))
}

const checkedShape = (value: Record<string, unknown> | undefined): boolean =>
  value !== undefined && schema.safeParse(shorten(value)).success
