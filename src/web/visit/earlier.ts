import { applyCorrections } from '../../corrections/apply.ts'
import { readNote } from '../../read.ts'
import type { InspectionRecord } from '../../record/schema.ts'
import { openTranscript } from '../../transcript/open.ts'
import type { Database, VisitRow } from '../store/database.ts'
import { listVisits, openKept } from '../store/visits.ts'
import type { YardInUse } from '../yard-in-use.ts'
import { sourceOf } from './source.ts'

/** How far back the rules look. */
const MOST = 12

/** A visit's record as a person left it, read anew from what is kept; null where nothing was said. */
export async function recordOf(
  db: Database,
  id: string,
  yard: YardInUse | undefined,
): Promise<InspectionRecord | null> {
  const kept = await openKept(db, id)
  if (!kept) return null
  const { name, date, brought } = kept.row
  if (!brought && kept.said.length === 0) return null
  try {
    const transcript = openTranscript(sourceOf(kept), brought?.name ?? name)
    const record = readNote(transcript, { name, date, ...(yard && { yard: yard.hints }) })
    return applyCorrections(record, kept.corrections, transcript.text).record
  } catch {
    // Only questions to the program were spoken: that is no note.
    return null
  }
}

/** The records of visits kept here before the day of `visit`, the latest first: what rules compare with. */
export async function earlierRecords(
  db: Database,
  visit: VisitRow,
  yard: YardInUse | undefined,
): Promise<InspectionRecord[]> {
  const earlier = (await listVisits(db)).filter(({ date }) => date < visit.date).slice(0, MOST)
  const records = await Promise.all(earlier.map(({ id }) => recordOf(db, id, yard)))
  return records.filter((record) => record !== null)
}
