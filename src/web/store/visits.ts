import { localDay } from '../../cli/days.ts'
import type { Correction } from '../../corrections/correction.ts'
import { type Database, type HearingRow, lasting, rowsOf, type SaidRow, type VisitRow } from './database.ts'

/** Everything that is kept of one visit. */
export interface KeptVisit {
  readonly row: VisitRow
  readonly said: readonly SaidRow[]
  /** A sentence in whose middle the page ended. */
  readonly broken: HearingRow | null
  readonly corrections: readonly Correction[]
}

/** All visits, the latest first. */
export const listVisits = async (db: Database): Promise<VisitRow[]> =>
  (await db.getAll('visits')).sort((a, b) => (a.begun < b.begun ? 1 : -1))

/**
 * Keeps a new visit. `now`: this moment; its day is that of the machine's own calendar, unless `day` (ISO) is another.
 * Its name is unlike any other's, so that the logbook knows it again.
 */
export async function addVisit(
  db: Database,
  now: Date,
  brought: VisitRow['brought'] = null,
  day: string = localDay(now),
): Promise<VisitRow> {
  const clock = now.toTimeString().slice(0, 8).replaceAll(':', '.')
  const row: VisitRow = {
    id: crypto.randomUUID(),
    name: brought
      ? `${day} ${brought.name
          .replace(/\.[a-z0-9]+$/i, '')
          .replace(/[/\\\p{Cc}]/gu, ' ')
          .slice(0, 60)
          .trim()} ${clock}`
      : `${day} ${clock}`,
    date: day,
    begun: now.toISOString(),
    utterances: 0,
    corrections: 0,
    brought,
    handed: null,
  }
  await db.put('visits', row)
  return row
}

/** A visit with all that was said in it. */
export async function openKept(db: Database, id: string): Promise<KeptVisit | undefined> {
  const tx = db.transaction(['visits', 'said', 'hearing', 'corrections'])
  const [row, said, broken, corrections] = await Promise.all([
    tx.objectStore('visits').get(id),
    tx.objectStore('said').getAll(rowsOf(id)),
    tx.objectStore('hearing').get(id),
    tx.objectStore('corrections').getAll(rowsOf(id)),
  ])
  return row && { row, said, broken: broken ?? null, corrections: corrections.map(({ body }) => body) }
}

/**
 * Keeps one utterance, in one transaction with the end of what was being heard; another tab may have kept some
 * meanwhile, so its number is given here. Gives the visit as it is now kept; undefined where it is gone.
 */
export async function keepSaid(db: Database, said: SaidRow): Promise<VisitRow | undefined> {
  const tx = db.transaction(['visits', 'said', 'hearing'], 'readwrite', lasting)
  const before = await tx.objectStore('visits').get(said.visit)
  if (!before) return undefined
  const row: VisitRow = { ...before, utterances: before.utterances + 1 }
  await Promise.all([
    tx.objectStore('said').add({ ...said, seq: before.utterances }),
    tx.objectStore('visits').put(row),
    ...(said.by === 'recognised' ? [tx.objectStore('hearing').delete(said.visit)] : []),
    tx.done,
  ])
  return row
}

/** Keeps what is being heard of a sentence that is not finished; nothing heard takes it away. */
export async function keepHearing(db: Database, visit: string, text: string): Promise<void> {
  if (text === '') await db.delete('hearing', visit)
  else await db.put('hearing', { visit, text, at: new Date().toISOString() })
}

/** Keeps corrections, all or none. Gives the visit as it is now kept. */
export async function keepCorrections(
  db: Database,
  visit: string,
  fresh: readonly Correction[],
): Promise<VisitRow | undefined> {
  const tx = db.transaction(['visits', 'corrections'], 'readwrite', lasting)
  const before = await tx.objectStore('visits').get(visit)
  if (!before) return undefined
  const row: VisitRow = { ...before, corrections: before.corrections + fresh.length }
  const rows = fresh.map((body, i) => ({ visit, seq: before.corrections + i, body }))
  await Promise.all([
    ...rows.map((one) => tx.objectStore('corrections').add(one)),
    tx.objectStore('visits').put(row),
    tx.done,
  ])
  return row
}

/** Notes what the logbook has got: the counts are those that were sent, not those of this moment. */
export async function keepHanded(
  db: Database,
  visit: string,
  handed: NonNullable<VisitRow['handed']>,
): Promise<VisitRow | undefined> {
  const tx = db.transaction('visits', 'readwrite', lasting)
  const before = await tx.store.get(visit)
  const row = before && { ...before, handed }
  if (row) await tx.store.put(row)
  await tx.done
  return row
}

/** Whether the logbook lacks something of it. */
export const isWaiting = ({ utterances, corrections, brought, handed }: VisitRow): boolean =>
  handed === null
    ? utterances > 0 || brought !== null
    : handed.utterances !== utterances || handed.corrections !== corrections

/** Whether nothing was ever said, recorded or brought in it. */
export const isEmpty = async (db: Database, { id, utterances, brought }: VisitRow): Promise<boolean> =>
  utterances === 0 &&
  brought === null &&
  (await db.get('hearing', id)) === undefined &&
  (await db.countFromIndex('sounds', 'visit', id)) === 0

/** Where the record that was read of a visit is kept. */
export const recordKey = (visit: string): string => `record ${visit}`

/** Takes a visit away for good, with everything said in it. Ask before. */
export async function removeVisit(db: Database, id: string): Promise<void> {
  const tx = db.transaction(
    ['visits', 'said', 'hearing', 'corrections', 'sounds', 'parts', 'kept'],
    'readwrite',
    lasting,
  )
  const sounds = await tx.objectStore('sounds').index('visit').getAllKeys(id)
  await Promise.all([
    ...sounds.flatMap((sound) => [
      tx.objectStore('sounds').delete(sound),
      tx.objectStore('parts').delete(rowsOf(sound)),
    ]),
    tx.objectStore('said').delete(rowsOf(id)),
    tx.objectStore('corrections').delete(rowsOf(id)),
    tx.objectStore('hearing').delete(id),
    tx.objectStore('visits').delete(id),
    tx.objectStore('kept').delete(recordKey(id)),
    tx.done,
  ])
}
