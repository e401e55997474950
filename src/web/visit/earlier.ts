import { applyCorrections } from '../../corrections/apply.ts'
import { CombscribeError } from '../../errors.ts'
import { readTranscript } from '../../read.ts'
import type { InspectionRecord } from '../../record/schema.ts'
import { openHeard } from '../../transcript/open-heard.ts'
import type { Database, VisitRow } from '../store/database.ts'
import { listVisits, openKept, recordKey } from '../store/visits.ts'
import type { YardInUse } from '../yard-in-use.ts'
import { openBrought } from './brought.ts'
import { sourceOf } from './source.ts'

/** How far back the rules look. */
const MOST = 12

/** A record that was read before, and of what. */
interface Read {
  readonly stamp: string
  readonly record: InspectionRecord | null
}

/**
 * A visit's record as a person left it; null where nothing was said. It is read once and kept until something is added,
 * the yard file changes or a newer page reads it anew: a season of visits must not delay the next one.
 */
export async function recordOf(
  db: Database,
  { id, utterances, corrections }: VisitRow,
  yard: YardInUse | undefined,
): Promise<InspectionRecord | null> {
  // The address of this part of the page has the hash of its code in its name.
  const stamp = JSON.stringify([import.meta.url, utterances, corrections, yard ?? null])
  const known = (await db.get('kept', recordKey(id))) as Read | undefined
  if (known?.stamp === stamp) return known.record
  const record = await readKept(db, id, yard)
  await db.put('kept', { stamp, record } satisfies Read, recordKey(id))
  return record
}

async function readKept(db: Database, id: string, yard: YardInUse | undefined): Promise<InspectionRecord | null> {
  const kept = await openKept(db, id)
  if (!kept) return null
  const { name, date, brought } = kept.row
  if (!brought && kept.said.length === 0) return null
  try {
    const transcript = brought ? await openBrought(brought.text, brought.name) : openHeard(sourceOf(kept), name)
    const record = readTranscript(transcript, { name, date, ...(yard && { yard: yard.hints }) })
    return applyCorrections(record, kept.corrections, transcript.text).record
  } catch (error) {
    // Only questions to the program were spoken: that is no note.
    if (error instanceof CombscribeError) return null
    throw error
  }
}

/** The records of visits kept here before the day of `visit`, the latest first: what rules compare with. */
export async function earlierRecords(
  db: Database,
  visit: VisitRow,
  yard: YardInUse | undefined,
): Promise<InspectionRecord[]> {
  const earlier = (await listVisits(db)).filter(({ date }) => date < visit.date).slice(0, MOST)
  const records = await Promise.all(earlier.map((row) => recordOf(db, row, yard)))
  return records.filter((record) => record !== null)
}
