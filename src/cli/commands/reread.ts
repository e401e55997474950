import type { StoredNote } from '../../logbook/logbook.ts'
import { clean } from '../../report/clean.ts'
import { inOrder } from '../batch/at-once.ts'
import { openCrew } from '../batch/crew.ts'
import { openProgress } from '../batch/progress.ts'
import type { OldNote } from '../batch/task.ts'
import { readYard } from '../files.ts'
import { logbookOption, openExisting } from '../logbooks.ts'
import { coresOption, noFiles, readOptions } from '../options.ts'
import type { Terminal } from '../terminal.ts'
import { judgedBy, readBy } from '../versions.ts'

/** `combscribe reread`: every note of the logbook once more, from the text kept in it. Corrections stay. */
export async function run(args: readonly string[], terminal: Terminal): Promise<number> {
  const { values, positionals } = readOptions('reread', args, {
    ...logbookOption,
    yard: { type: 'string' },
    cores: { type: 'string' },
  })
  noFiles('reread', positionals)
  const cores = coresOption('reread', values.cores)
  const yard = await readYard(values.yard, terminal)
  const book = await openExisting(values.logbook)
  const crew = openCrew(cores, yard)
  const progress = openProgress()
  let [all, changed, lost] = [0, 0, 0]
  const before = new Set<string>()
  try {
    const total = await book.count()
    await crew.expect(total)
    progress.reading(total)
    const work = async (note: StoredNote) => ({ note, ...(await crew.reread(asOld(note))) })
    for await (const { note, rows, changes, orphaned } of inOrder(book.stored(), crew.atOnce, work)) {
      all++
      before.add(note.reader)
      lost += orphaned
      if (changes.length > 0) {
        changed++
        terminal.out(`${note.date}  ${clean(note.name)}\n${changes.map((line) => `    ${clean(line)}\n`).join('')}`)
      }
      if (rows) await book.writeRows(rows)
      progress.step(0, 0)
    }
    await book.judgeAgain()
    progress.judging(total)
    await book.judgeBlocks(crew.judge, judgedBy, () => progress.step(0, 0))
  } finally {
    progress.end()
    await crew.close()
    await book.close()
  }
  before.delete(readBy)
  const was = before.size > 0 ? ` Read by ${readBy}; before by ${[...before].sort().join('; ')}.` : ''
  terminal.out(`${all} notes read again, ${changed} with other values.${was}\n`)
  if (lost > 0) terminal.out(`${lost} corrections find their words no more: combscribe fix --logbook shows them.\n`)
  return 0
}

const asOld = ({ path, hash, source, date, reader, record, corrections }: StoredNote): OldNote => ({
  // The old day stands in for the file's time, which the logbook does not know any more.
  file: { path, hash, bytes: source, modified: new Date(`${date}T12:00:00`) },
  ...{ reader, record, corrections },
})
