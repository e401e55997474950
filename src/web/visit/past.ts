import type { InspectionRecord } from '../../record/schema.ts'
import { byDay, due } from '../../report/due.ts'
import { visitValues } from '../../report/visit.ts'
import { judge } from '../../rules/judge.ts'
import type { Visit } from '../../web-server/services.ts'
import { askDue, askHistory, askHives, type DueRow, type Reply } from '../home/client.ts'
import type { Database, VisitRow } from '../store/database.ts'
import { isWaiting, listVisits } from '../store/visits.ts'
import type { YardInUse } from '../yard-in-use.ts'
import { recordOf } from './earlier.ts'

/** What is known of the time until now: from the logbook (its last answer, where it is away) and from this machine. */
export interface Past {
  /** Labels, those of the logbook and of the visits kept here. */
  readonly hives: readonly string[]
  readonly due: readonly DueRow[]
  /** The visits of one hive, first to last. */
  visitsOf(hive: string): Promise<readonly Visit[]>
}

export async function openPast(db: Database, yard: YardInUse | undefined): Promise<Past> {
  const rows = await listVisits(db)
  const here = (await Promise.all(rows.map(async (row) => ({ row, record: await recordOf(db, row, yard) })))).flatMap(
    ({ row, record }) => (record === null ? [] : [{ row, record }]),
  )
  const home = await lastAnswer(db, 'hives', askHives)
  const labels = [...(home?.hives ?? []), ...here.flatMap(({ record }) => record.hives)].map(({ hive }) => hive)
  const dueHome = (await lastAnswer(db, 'due', askDue))?.due ?? []
  // What the logbook does not know yet of a hive counts for more than what it does.
  const newer = here.filter(({ row }) => isWaiting(row) || dueHome.length === 0)
  const dueHere = latestDue(newer, here, yard)
  const own = new Set(newer.flatMap(({ record }) => record.hives.map(({ hive }) => hive)))
  const entries = [...dueHere, ...dueHome.filter(({ hive }) => !own.has(hive.replace(/^hive /, '')))]
  return {
    hives: [...new Set(labels)].sort((a, b) => a.localeCompare(b, 'en', { numeric: true })),
    due: entries.sort(byDay),
    async visitsOf(hive) {
      const isKnown = home?.hives.some((one) => one.hive === hive) ?? false
      const known = isKnown ? ((await lastAnswer(db, `history ${hive}`, () => askHistory(hive)))?.visits ?? []) : []
      const notes = new Set(known.map(({ note }) => note))
      const added = here
        .filter(({ row, record }) => !notes.has(row.name) && record.hives.some((one) => one.hive === hive))
        .map(
          ({ row, record }): Visit => ({
            date: record.date ?? row.date,
            note: row.name,
            values: visitValues(record, hive),
          }),
        )
      return [...known, ...added].sort((a, b) => (a.date < b.date ? -1 : 1))
    },
  }
}

interface Here {
  readonly row: VisitRow
  readonly record: InspectionRecord
}

/** What is due at each hive by its latest visit kept here. */
function latestDue(newer: readonly Here[], all: readonly Here[], yard: YardInUse | undefined): DueRow[] {
  const latest = new Map<string, Here>()
  for (const one of newer)
    for (const { hive } of one.record.hives) {
      const known = latest.get(hive)
      if (!known || known.row.date < one.row.date) latest.set(hive, one)
    }
  return [...latest].flatMap(([hive, { row, record }]) => {
    const earlier = all.filter((one) => one.row.date < row.date).map((one) => one.record)
    const findings = judge(record, earlier, yard?.rules).filter(({ place }) => place.hive === hive)
    const only = { ...record, visit: [], hives: record.hives.filter((one) => one.hive === hive) }
    return due(only, findings).map((entry) => ({ ...entry, date: record.date ?? row.date }))
  })
}

/** What home answers, or what it answered last. */
async function lastAnswer<T>(db: Database, name: string, ask: () => Promise<Reply<T>>): Promise<T | undefined> {
  const key = `home ${name}`
  const reply = await ask()
  if (reply.is === 'answer') {
    await db.put('kept', reply.value, key)
    return reply.value
  }
  return (await db.get('kept', key)) as T | undefined
}
