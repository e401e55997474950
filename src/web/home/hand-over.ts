import type { Database, VisitRow } from '../store/database.ts'
import { keepHanded } from '../store/visits.ts'
import type { VisitInHand } from '../visit/visit-in-hand.ts'
import { giveNote, type Reply } from './client.ts'

/** Hands a visit over to the logbook with its corrections, and keeps how much of it the logbook has. */
export async function handOver(db: Database, visit: VisitInHand): Promise<Reply<VisitRow>> {
  await visit.kept()
  const { id, name, date, utterances, corrections } = visit.row.value
  const reply = await giveNote({ name, date, text: visit.source(), corrections: visit.corrections.value })
  if (reply.is !== 'answer') return reply
  const row = await keepHanded(db, id, { at: new Date().toISOString(), utterances, corrections })
  if (!row) return { is: 'no', why: 'The visit was taken away meanwhile.' }
  visit.setRow(row)
  return { is: 'answer', value: row }
}
