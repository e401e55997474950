import { findingsText } from '../../report/findings.ts'
import { judge } from '../../rules/index.ts'
import { readYard, shownPath } from '../files.ts'
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
  const { done, code } = await eachInput('judge', positionals, terminal, (bytes, path) =>
    parseRecords(bytes, shownPath(path)).map((record) => ({
      note: record.note,
      date: record.date,
      findings: judge(record, undefined, yard),
    })),
  )
  const judged = done.flat()
  if (as === 'json') {
    if (judged.length > 0) terminal.out(`${JSON.stringify(judged.length === 1 ? judged[0] : judged, null, 2)}\n`)
  } else terminal.out(judged.map(({ note, findings }) => findingsText(note, findings, terminal.style)).join('\n'))
  return code
}
