import type { Correction } from '../../corrections/correction.ts'
import { findingsText } from '../../report/findings.ts'
import { judge } from '../../rules/index.ts'
import { corrected, correctionsBeside } from '../corrections-file.ts'
import { readBytes, readYard, shownPath } from '../files.ts'
import { eachInput } from '../inputs.ts'
import { oneOf, readOptions } from '../options.ts'
import { parseRecords } from '../records.ts'
import type { Terminal } from '../terminal.ts'

/** `combscribe judge`: the rules alone, on records from any source. */
export async function run(args: readonly string[], terminal: Terminal): Promise<number> {
  const { values, positionals } = readOptions('judge', args, {
    as: { type: 'string', default: 'text' },
    yard: { type: 'string' },
  })
  const as = oneOf('judge', 'as', values.as, ['text', 'json'])
  const yard = await readYard(values.yard, terminal)
  const beside = new Map<string, Correction[]>()
  const bytesOf = async (path: string): Promise<Uint8Array> => {
    beside.set(path, await correctionsBeside(path))
    return readBytes(path, terminal)
  }
  const judgeOne = (bytes: Uint8Array, path: string) =>
    parseRecords(bytes, shownPath(path)).map((read) => {
      const say = (sentence: string) => terminal.err(`combscribe: ${shownPath(path)}: ${sentence}\n`)
      const record = corrected(read, beside.get(path) ?? [], undefined, say)
      return { note: record.note, date: record.date, findings: judge(record, undefined, yard) }
    })
  const { done, code } = await eachInput('judge', positionals, terminal, judgeOne, bytesOf)
  const judged = done.flat()
  if (as === 'json') {
    if (judged.length > 0) terminal.out(`${JSON.stringify(judged.length === 1 ? judged[0] : judged, null, 2)}\n`)
  } else terminal.out(judged.map(({ note, findings }) => findingsText(note, findings, terminal.style)).join('\n'))
  return code
}
