import type { Generated } from 'kysely'

/** One row a note. `record` is the record as people left it, as JSON; `source` the bytes as they were read. */
export interface NotesTable {
  id: Generated<number>
  /** Whole path of the file; a note is known again by it. */
  path: string
  name: string
  /** SHA-256 of the file's bytes, in hexadecimal digits. */
  hash: string
  source: Uint8Array
  /** What was said, as searched. */
  text: string
  date: string
  date_from: DateSource
  /** Program and grammar that read it. */
  reader: string
  record: string
  /** The record before corrections; null in rows that an older schema wrote, which knew of none. */
  as_read: string | null
  /** 0 while the findings do not yet know of a note that was added or changed before this one's date. */
  judged: number
}

/** Which source a note's date came from. */
export type DateSource = 'said' | 'file name' | 'file time' | 'put right'

export interface ReadingsTable {
  note: number
  seq: number
  /** `''` is the one hive that is never named; null: the visit as a whole. */
  hive: string | null
  box: string | null
  frame: number | null
  side: string | null
  field: string
  /** JSON of the value. */
  value: string
  /** The value where it is a number, the middle where it is a range. */
  number: number | null
  unit: string | null
  confidence: number
  flag: string
  quote: string
  entry: number | null
  detail: string | null
}

export interface FindingsTable {
  note: number
  seq: number
  rule: string
  /** null: the visit as a whole. */
  hive: string | null
  kind: string
  verdict: string
  what: string
  /** The whole finding as JSON. */
  body: string
}

export interface CorrectionsTable {
  note: number
  seq: number
  who: string
  at: string
  /** JSON that src/corrections alone understands. */
  body: string
}

export interface Tables {
  notes: NotesTable
  readings: ReadingsTable
  findings: FindingsTable
  corrections: CorrectionsTable
  schema_version: { version: number }
}
