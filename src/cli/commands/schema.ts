import { recordSchema } from '../../record/schema.ts'
import * as z from '../../zod.ts'
import { noFiles, readOptions } from '../options.ts'
import type { Terminal } from '../terminal.ts'

/** `combscribe schema`: the record's JSON Schema, made from the one definition. */
export async function run(args: readonly string[], terminal: Terminal): Promise<number> {
  const { positionals } = readOptions('schema', args, {})
  noFiles('schema', positionals)
  terminal.out(`${JSON.stringify(z.toJSONSchema(recordSchema), null, 2)}\n`)
  return 0
}
