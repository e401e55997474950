import * as z from 'zod'
import { recordSchema } from '../../record/schema.ts'
import { readOptions, usage } from '../options.ts'
import type { Terminal } from '../terminal.ts'

/** `combscribe schema`: the record's JSON Schema, made from the one definition. */
export async function run(args: readonly string[], terminal: Terminal): Promise<number> {
  const { positionals } = readOptions('schema', args, {})
  if (positionals.length > 0) throw usage('schema', `takes no file, and "${positionals[0]}" was given`)
  terminal.out(`${JSON.stringify(z.toJSONSchema(recordSchema), null, 2)}\n`)
  return 0
}
