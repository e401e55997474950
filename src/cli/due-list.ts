import type { Logbook } from '../logbook/logbook.ts'
import type { InspectionRecord } from '../record/schema.ts'
import { byDay, type Due, due } from '../report/due.ts'
import type { Finding } from '../rules/finding.ts'

/** One entry of the list over all hives, with the day of the visit that it comes from. */
export type DueOfVisit = Due & { readonly date: string }

/** What is due over all hives as of a day, in the order of the calendar; of each hive its last visit counts. */
export async function dueOver(book: Logbook, today: string): Promise<DueOfVisit[]> {
  const latest = new Map<string, { date: string; entries: Due[] }>()
  for await (const { id, date, record } of book.notes()) {
    if (date > today) continue
    const findings = await book.findings(id)
    // A hive that was only named was not visited.
    const visited = record.hives.filter((one) => one.readings.length > 0 || one.boxes.length > 0)
    for (const { hive } of visited) latest.set(hive, { date, entries: due(only(record, hive), of(findings, hive)) })
  }
  return [...latest.values()].flatMap(({ date, entries }) => entries.map((entry) => ({ ...entry, date }))).sort(byDay)
}

const only = (record: InspectionRecord, hive: string): InspectionRecord => ({
  ...record,
  visit: [],
  hives: record.hives.filter((one) => one.hive === hive),
})
const of = (findings: readonly Finding[], hive: string) => findings.filter(({ place }) => place.hive === hive)
