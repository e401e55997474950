import { CombscribeError } from '../errors.ts'
import { type InspectionRecord, recordSchema } from '../record/schema.ts'
import { lineOf } from '../span.ts'
import type * as z from '../zod.ts'

/** The records in a JSON file: one, or a list of them. Throws one sentence with the line or the JSON pointer. */
export function parseRecords(bytes: Uint8Array, where: string): InspectionRecord[] {
  const text = new TextDecoder().decode(bytes)
  if (text.trim() === '') throw new CombscribeError('empty', 'the file is empty', where, 'give a saved record')
  const data = parseJson(text, where)
  const isList = Array.isArray(data)
  return (isList ? data : [data]).map((entry, i) => {
    const result = recordSchema.safeParse(entry)
    if (result.success) return result.data
    const issue = result.error.issues[0]!
    const pointer = toPointer(isList ? [i, ...issue.path] : issue.path)
    throw new CombscribeError(
      'bad-record',
      `not a record (${fault(issue)}${result.error.issues.length > 1 ? ' and more' : ''})`,
      `${where}#${pointer}`,
      'compare it with combscribe schema',
    )
  })
}

function parseJson(text: string, where: string): unknown {
  try {
    return JSON.parse(text)
  } catch (error) {
    const position = /position (\d+)/.exec((error as Error).message)?.[1]
    const { line } = lineOf(text, position === undefined ? text.length : Number(position))
    throw new CombscribeError('bad-json', 'not readable as JSON', `${where}:${line}`, 'mend that line or save it again')
  }
}

/** RFC 6901: `/hives/0/readings/3/value`; the whole document is the empty pointer. */
const toPointer = (path: readonly PropertyKey[]): string =>
  path.map((part) => `/${String(part).replaceAll('~', '~0').replaceAll('/', '~1')}`).join('')

/** Zod says only "Invalid input" of a union; the one there is here is a reading's value. */
function fault(issue: z.core.$ZodIssue): string {
  if (issue.code === 'invalid_union') return 'expected a word, a number or a range of two numbers'
  return issue.message.charAt(0).toLowerCase() + issue.message.slice(1)
}
