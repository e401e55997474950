import { rulebook, rulebookText } from '../../rules/rulebook.ts'
import { noFiles, oneOf, readOptions } from '../options.ts'
import type { Terminal } from '../terminal.ts'

/** `combscribe rules`: the rulebook, for people or for programs. */
export async function run(args: readonly string[], terminal: Terminal): Promise<number> {
  const { values, positionals } = readOptions('rules', args, { as: { type: 'string', default: 'text' } })
  noFiles('rules', positionals)
  const as = oneOf('rules', 'as', values.as, ['text', 'json'])
  terminal.out(as === 'json' ? `${JSON.stringify(rulebook(), null, 2)}\n` : rulebookText())
  return 0
}
