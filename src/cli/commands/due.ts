import { clean } from '../../report/clean.ts'
import { paints } from '../../report/style.ts'
import { localDay } from '../days.ts'
import { type DueOfVisit, dueOver } from '../due-list.ts'
import { logbookOption, openExisting } from '../logbooks.ts'
import { dayOption, noFiles, readOptions } from '../options.ts'
import type { Terminal } from '../terminal.ts'

/** `combscribe due`: what is due over all hives, by day; of each hive its last visit counts. */
export async function run(args: readonly string[], terminal: Terminal): Promise<number> {
  const { values, positionals } = readOptions('due', args, {
    ...logbookOption,
    date: { type: 'string' },
  })
  noFiles('due', positionals)
  const today = values.date === undefined ? localDay(new Date()) : dayOption('due', values.date)
  const book = await openExisting(values.logbook)
  let rows: DueOfVisit[]
  try {
    rows = await dueOver(book, today)
  } finally {
    await book.close()
  }
  const paint = paints(terminal.style)
  for (const { day, hive, what, between, date, isSure } of rows) {
    const when = day === null ? 'no day   ' : day
    const late = day !== null && day < today ? ` ${paint.urgent('late')}` : ''
    const extra = [between, isSure ? '' : 'to check', `visit of ${date}`].filter(Boolean).join(', ')
    terminal.out(`${when.padEnd(10)}${late}  ${clean(hive)}: ${clean(what)} (${extra})\n`)
  }
  if (rows.length === 0) terminal.out('Nothing is due.\n')
  return 0
}
