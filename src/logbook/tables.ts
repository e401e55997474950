import type { Generated } from 'kysely'

/** One row a note. `record` is the record as people left it, packed; `source` the bytes as they were read. */
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
  record: Uint8Array | string
  /** The record before corrections; null where there are none. */
  as_read: Uint8Array | string | null
  /** JSON of the record as an earlier visit; null in rows that an older schema wrote: the record itself serves. */
  brief: string | null
  /** All findings, packed. Null before the first judging, and in rows of an older schema: then `findings.body` has them. */
  findings: Uint8Array | null
  /** Program and rules that judged it. */
  judged_by: string | null
  /** 0 while the findings do not yet know of a note that was added or changed before this one's date. */
  judged: number
}

/** Which source a note's date came from. */
export type DateSource = 'said' | 'file name' | 'recording' | 'file time' | 'put right'

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

/** Which hive was spoken of when, with how many readings: none where it was only named. */
export interface VisitsTable {
  hive: string
  date: string
  note: number
  readings: number
}

/** Findings that say something: those that a query may look for. All of them, with all that they say, are in `notes`. */
export interface FindingsTable {
  note: number
  seq: number
  rule: string
  /** null: the visit as a whole. */
  hive: string | null
  kind: string
  verdict: string
  what: string
  /** The whole finding as JSON in rows of an older schema, else empty. */
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
  visits: VisitsTable
  findings: FindingsTable
  corrections: CorrectionsTable
  schema_version: { version: number }
}
