import { rulebook, rulebookText } from '../../rules/rulebook.ts'
import { oneOf, readOptions, usage } from '../options.ts'
import type { Terminal } from '../terminal.ts'

/** `combscribe rules`: the rulebook, for people or for programs. */
export async function run(args: readonly string[], terminal: Terminal): Promise<number> {
  const { values, positionals } = readOptions('rules', args, { as: { type: 'string', default: 'text' } })
  if (positionals.length > 0) throw usage('rules', `takes no file, and "${positionals[0]}" was given`)
  const as = oneOf('rules', 'as', values.as, ['text', 'json'])
  terminal.out(as === 'json' ? `${JSON.stringify(rulebook(), null, 2)}\n` : rulebookText())
  return 0
}
