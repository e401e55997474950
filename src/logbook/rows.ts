import { flatten, type Hive, type InspectionRecord, numberOf, type Reading } from '../record/schema.ts'
import type { Finding } from '../rules/finding.ts'
import { pack } from './packed.ts'
import type { DateSource } from './tables.ts'

/** A note as it goes into the logbook. */
export interface NewNote {
  readonly path: string
  readonly name: string
  /** SHA-256 of `source`, in hexadecimal digits. */
  readonly hash: string
  readonly source: Uint8Array
  readonly text: string
  readonly date: string
  readonly dateFrom: DateSource
  readonly reader: string
  readonly record: InspectionRecord
}

/** What of a record stands in tables. `readings` is JSON, one object a row: one statement writes them all. */
export interface RecordRows {
  readonly record: Uint8Array
  readonly brief: string
  readonly readings: string
  /** Labels of the hives spoken of, with the number of readings of each. */
  readonly hives: readonly (readonly [hive: string, readings: number])[]
}

/** A note made ready to be written: nothing is left to compute, and it goes from thread to thread as it is. */
export interface NoteRows extends Omit<NewNote, 'record'>, RecordRows {
  /** The day that the record itself gives. */
  readonly recordDate: string | null
}

export const noteRows = ({ record, ...note }: NewNote): NoteRows => ({
  ...note,
  text: clean(note.text),
  recordDate: record.date,
  ...recordRows(record),
})

export const recordRows = (record: InspectionRecord): RecordRows => ({
  record: pack(record),
  brief: jsonOf(briefly(record)),
  readings: jsonOf(readingRows(record)),
  hives: record.hives.map(({ hive, readings, boxes }) => [clean(hive), readings.length + inBoxes(boxes)]),
})

const inBoxes = (boxes: Hive['boxes']): number =>
  boxes.reduce(
    (sum, { readings, frames }) => sum + readings.length + frames.reduce((n, f) => n + f.readings.length, 0),
    0,
  )

/** A note's findings made ready to be written. `told` is JSON: of each that says something, what can be asked for in SQL. */
export interface FindingRows {
  readonly findings: Uint8Array
  readonly told: string
}

/** Answers that only say that all is well, or that nothing was said to judge by. */
const quiet: ReadonlySet<string> = new Set(['none', 'no', 'cannot tell', 'nothing due', 'nothing to count'])

export function findingRows(findings: readonly Finding[]): FindingRows {
  const told = findings.flatMap((finding, seq) => {
    if (quiet.has(finding.verdict)) return []
    const { rule, kind, verdict } = finding
    return [{ seq, rule, hive: finding.place.hive, kind, verdict, what: finding.says.what }]
  })
  return { findings: pack(findings), told: jsonOf(told) }
}

/** A record as an earlier visit: what was read, without how it came about. The rules ask no more of what is past. */
function briefly(record: InspectionRecord): InspectionRecord {
  const short = (readings: readonly Reading[]): Reading[] =>
    readings.map((reading) => ({ ...reading, evidence: [], alternatives: [], features: {} }))
  return {
    ...record,
    visit: short(record.visit),
    hives: record.hives.map((hive) => ({
      ...hive,
      readings: short(hive.readings),
      boxes: hive.boxes.map((box) => ({
        ...box,
        readings: short(box.readings),
        frames: box.frames.map((frame) => ({ ...frame, readings: short(frame.readings) })),
      })),
    })),
    questions: [],
    account: [],
  }
}

function readingRows(record: InspectionRecord) {
  return flatten(record).map((r, seq) => ({
    seq,
    // The flat view begins with what was said of the visit.
    hive: seq < record.visit.length ? null : r.hive,
    box: r.box,
    frame: r.frame,
    side: r.side,
    field: r.field,
    value: JSON.stringify(r.value),
    number: numberOf(r.value) ?? null,
    unit: r.unit,
    confidence: r.confidence,
    flag: r.flag,
    quote: r.quote,
    entry: r.entry ?? null,
    detail: r.detail ?? null,
  }))
}

/** PostgreSQL stores no NUL in a text, not even written as JSON writes it; nobody says one. */
const clean = (text: string): string => text.replaceAll('\0', '')

function jsonOf(value: unknown): string {
  const text = JSON.stringify(value)
  if (!text.includes('\\u0000')) return text
  return JSON.stringify(value, (_, one) => (typeof one === 'string' ? clean(one) : one))
}
