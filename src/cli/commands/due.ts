import type { InspectionRecord } from '../../record/schema.ts'
import { byDay, type Due, due } from '../../report/due.ts'
import { clean, paints } from '../../report/style.ts'
import type { Finding } from '../../rules/finding.ts'
import { localDay } from '../days.ts'
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
  const latest = new Map<string, { date: string; entries: Due[] }>()
  try {
    for await (const { id, date, record } of book.notes()) {
      if (date > today) continue
      const findings = await book.findings(id)
      for (const { hive } of record.hives)
        latest.set(hive, { date, entries: due(only(record, hive), of(findings, hive)) })
    }
  } finally {
    await book.close()
  }
  const rows = [...latest.values()]
    .flatMap(({ date, entries }) => entries.map((entry) => ({ ...entry, date })))
    .sort(byDay)
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

const only = (record: InspectionRecord, hive: string): InspectionRecord => ({
  ...record,
  visit: [],
  hives: record.hives.filter((one) => one.hive === hive),
})
const of = (findings: readonly Finding[], hive: string) => findings.filter(({ place }) => place.hive === hive)
