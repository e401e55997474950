import type { NewNote } from '../../logbook/rows.ts'
import type { YardHints } from '../../read.ts'
import { readNote } from '../../read-note.ts'
import { dayGiven, localDay } from '../days.ts'
import { noteName } from '../files.ts'
import { openNote } from '../open-note.ts'
import { readBy } from '../versions.ts'

/** A note as it lies in a folder, or lay there when the logbook took it in. */
export interface NoteFile {
  readonly path: string
  /** SHA-256 of the bytes. */
  readonly hash: string
  readonly bytes: Uint8Array
  readonly modified: Date
}

/**
 * A file's bytes as a logbook's note. Its date is the one said in it, else the one in its name, else the one that the
 * transcript gives for its recording, else the file's own; what is said without a year is counted from the latter three.
 */
export function noteForLogbook({ path, hash, bytes, modified }: NoteFile, yard?: YardHints): NewNote {
  const transcript = openNote(bytes, path)
  const name = noteName(path)
  const given = dayGiven(name, transcript.recordedAt)
  const date = given?.day ?? localDay(modified)
  const read = readNote(transcript, { name, date, ...(yard && { yard }) })
  const said = read.visit.find(({ field, value }) => field === 'visit.date' && /^\d{4}-\d\d-\d\d$/.test(String(value)))
  const day = said ? String(said.value) : date
  return {
    path,
    name,
    hash,
    source: bytes,
    text: transcript.text,
    date: day,
    dateFrom: said ? 'said' : (given?.from ?? 'file time'),
    reader: readBy,
    record: { ...read, date: day },
  }
}
