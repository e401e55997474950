import { applyCorrections } from '../../corrections/apply.ts'
import { type InspectionRecord, placedReadings } from '../../record/schema.ts'
import { clean } from '../../report/clean.ts'
import { judge } from '../../rules/index.ts'
import { readerHints } from '../../yard.ts'
import { noteForLogbook } from '../batch/read-note.ts'
import { readYard } from '../files.ts'
import { correctionsOf, logbookOption, openExisting } from '../logbooks.ts'
import { noFiles, readOptions } from '../options.ts'
import type { Terminal } from '../terminal.ts'
import { judgedBy, readBy } from '../versions.ts'

/** `combscribe reread`: every note of the logbook once more, from the text kept in it. Corrections stay. */
export async function run(args: readonly string[], terminal: Terminal): Promise<number> {
  const { values, positionals } = readOptions('reread', args, {
    ...logbookOption,
    yard: { type: 'string' },
  })
  noFiles('reread', positionals)
  const yard = await readYard(values.yard, terminal)
  const hints = yard && readerHints(yard)
  const book = await openExisting(values.logbook)
  let [all, changed, lost] = [0, 0, 0]
  const before = new Set<string>()
  try {
    for await (const old of book.notes()) {
      all++
      before.add(old.reader)
      // The old day stands in for the file's time, which the logbook does not know any more.
      const modified = new Date(`${old.date}T12:00:00`)
      const note = noteForLogbook({ ...old, bytes: await book.source(old.id), modified }, hints)
      const made = await correctionsOf(book, old.id)
      const { record, orphaned } = applyCorrections(note.record, made, note.text)
      lost += orphaned.length
      const differences = changes(old.record, record)
      if (differences.length > 0) {
        changed++
        terminal.out(`${old.date}  ${clean(old.name)}\n${differences.map((line) => `    ${clean(line)}\n`).join('')}`)
      }
      const isSame = old.reader === note.reader && JSON.stringify(old.record) === JSON.stringify(record)
      if (!isSame) await book.write(note)
    }
    await book.judgeAgain()
    await book.judgeWaiting((record, history) => judge(record, history, yard), judgedBy)
  } finally {
    await book.close()
  }
  before.delete(readBy)
  const was = before.size > 0 ? ` Read by ${readBy}; before by ${[...before].sort().join('; ')}.` : ''
  terminal.out(`${all} notes read again, ${changed} with other values.${was}\n`)
  if (lost > 0) terminal.out(`${lost} corrections find their words no more: combscribe fix --logbook shows them.\n`)
  return 0
}

/** What one reading has and the other has not, by place, field and value. */
function changes(old: InspectionRecord, fresh: InspectionRecord): string[] {
  const lines = (record: InspectionRecord) =>
    new Set(
      placedReadings(record).map(({ hive, box, frame, reading }) => {
        const place = [hive && `hive ${hive}`, box, frame !== null && `frame ${frame}`, reading.side].filter(Boolean)
        return `${[...place, reading.field].join(', ')}: ${JSON.stringify(reading.value)}`
      }),
    )
  const [before, after] = [lines(old), lines(fresh)]
  const gone = [...before].filter((line) => !after.has(line)).map((line) => `- ${line}`)
  return [...gone, ...[...after].filter((line) => !before.has(line)).map((line) => `+ ${line}`)]
}
