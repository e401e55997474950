import { type Database, lasting, rowsOf, type SoundRow } from './database.ts'

/** Keeps that a stretch of sound has begun. */
export async function beginSound(db: Database, visit: string, mime: string): Promise<SoundRow> {
  const row: SoundRow = { id: crypto.randomUUID(), visit, at: new Date().toISOString(), mime }
  await db.put('sounds', row)
  return row
}

/** Keeps one more part of it, as the recorder hands it out. */
export async function keepPart(db: Database, sound: string, seq: number, bytes: ArrayBuffer): Promise<void> {
  const tx = db.transaction('parts', 'readwrite', lasting)
  await Promise.all([tx.store.put({ sound, seq, bytes }), tx.done])
}

/** The stretches that nobody has written down yet, in the order in which they were spoken. */
export const waitingSounds = async (db: Database, visit: string): Promise<SoundRow[]> =>
  (await db.getAllFromIndex('sounds', 'visit', visit)).sort((a, b) => (a.at < b.at ? -1 : 1))

/** The sound as the recorder made it. */
export async function soundOf(db: Database, { id, mime }: SoundRow): Promise<Blob> {
  const parts = await db.getAll('parts', rowsOf(id))
  return new Blob(
    parts.map(({ bytes }) => bytes),
    { type: mime },
  )
}

/** Lets go of a stretch: it was written down, or there was nothing in it. */
export async function dropSound(db: Database, id: string): Promise<void> {
  const tx = db.transaction(['sounds', 'parts'], 'readwrite')
  await Promise.all([tx.objectStore('sounds').delete(id), tx.objectStore('parts').delete(rowsOf(id)), tx.done])
}
