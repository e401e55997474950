import type { Database, VisitRow } from '../store/database.ts'
import { keepHanded, openKept } from '../store/visits.ts'
import { sourceOf } from '../visit/source.ts'
import { giveNote, type Reply } from './client.ts'

/** Hands a kept visit over to the logbook with its corrections, and keeps how much of it the logbook has. */
export async function handOver(db: Database, visit: string): Promise<Reply<VisitRow>> {
  const kept = await openKept(db, visit)
  if (!kept) return gone
  const { name, date, utterances, corrections } = kept.row
  const reply = await giveNote({ name, date, text: sourceOf(kept), corrections: kept.corrections })
  if (reply.is !== 'answer') return reply
  const row = await keepHanded(db, visit, { at: new Date().toISOString(), utterances, corrections })
  return row ? { is: 'answer', value: row } : gone
}

const gone = { is: 'no', why: 'The visit was taken away meanwhile.' } as const
