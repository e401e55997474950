import { CombscribeError } from '../errors.ts'
import type { NewNote } from '../logbook/logbook.ts'
import { readNote, type YardHints } from '../read.ts'
import { openTranscript } from '../transcript/open.ts'
import { noteName } from './files.ts'
import { version } from './help.ts'
import { dayInName, hashOf, localDay } from './notes-folder.ts'

/** Some ninety hours of talk: no note, but a wrong file. */
const longest = 5_000_000

/**
 * A file's bytes as a logbook's note. Its date is the one said in it, else the one in its name, else the file's own;
 * what is said without a year is counted from the latter two.
 */
export function noteForLogbook(path: string, bytes: Uint8Array, modified: Date, yard?: YardHints): NewNote {
  const transcript = openTranscript(bytes, path)
  if (transcript.text.length > longest) {
    throw new CombscribeError('unreadable', 'too long for a dictated note', path, 'give one file a visit')
  }
  const name = noteName(path)
  const named = dayInName(name)
  const date = named ?? localDay(modified)
  const read = readNote(transcript, { name, date, ...(yard && { yard }) })
  const said = read.visit.find(({ field, value }) => field === 'visit.date' && /^\d{4}-\d\d-\d\d$/.test(String(value)))
  const day = said ? String(said.value) : date
  return {
    path,
    name,
    hash: hashOf(bytes),
    source: bytes,
    text: transcript.text,
    date: day,
    dateFrom: said ? 'said' : named ? 'file name' : 'file time',
    reader: version,
    record: { ...read, date: day },
  }
}
