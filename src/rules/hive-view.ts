import type { Hive, InspectionRecord, Reading, Value } from '../record/schema.ts'
import type { Settings } from './settings.ts'

/** A reading with its place and the note it comes from. `value` may be another than was read, while a flip is tried. */
export interface Placed {
  readonly reading: Reading
  readonly value: Value
  readonly box: string | null
  readonly frame: number | null
  readonly side: 'A' | 'B' | null
  readonly note: string
}

/** What one run of a rule looked at, and the reading whose other value is being tried. */
export interface Trial {
  readonly touched: Set<Placed>
  instead: { reading: Reading; value: Value } | undefined
}

/** One hive of one visit, as rules see it: readings by field, the visit's own, earlier visits, other hives. */
export interface HiveView {
  readonly label: string
  readonly note: string
  /** ISO date of the visit. */
  readonly date: string | null
  /** The day for which the question is asked: today where the caller says so, else the visit's day. */
  readonly today: string | null
  readonly settings: Settings
  readonly boxes: readonly string[]
  readonly byField: ReadonlyMap<string, readonly Placed[]>
  /** Earlier visits to this hive, newest first. */
  readonly past: readonly HiveView[]
  /** Every hive of the same record, this one included. */
  readonly yard: ReadonlyMap<string, HiveView>
  readonly remarks: readonly string[]
  readonly trial: Trial
}

interface Opening {
  readonly record: InspectionRecord
  readonly settings: Settings
  readonly today: string | null
  readonly trial: Trial
  /** Earlier records, newest first. */
  readonly history: readonly InspectionRecord[]
}

/** The hives of a record. Hives that only the history knows come out with no readings of their own. */
export function openHives(opening: Opening): { visited: HiveView[]; unvisited: HiveView[]; visit: HiveView } {
  const { record, history } = opening
  const yard = new Map<string, HiveView>()
  const visited = record.hives.map((hive) => {
    const view = openHive(record, hive, opening, yard, pastOf(hive.hive, opening))
    yard.set(hive.hive, view)
    return view
  })
  const unvisited: HiveView[] = []
  for (const earlier of history) {
    for (const { hive } of earlier.hives) {
      if (yard.has(hive) || unvisited.some((view) => view.label === hive)) continue
      const empty: Hive = { hive, readings: [], boxes: [] }
      unvisited.push(openHive(record, empty, opening, yard, pastOf(hive, opening)))
    }
  }
  const nothing: Hive = { hive: '', readings: [], boxes: [] }
  return { visited, unvisited, visit: openHive(record, nothing, opening, yard, [], true) }
}

/** Kept aside from dead history: a note without a date cannot be placed before this one. */
function pastOf(label: string, opening: Opening): HiveView[] {
  const out: HiveView[] = []
  for (const earlier of opening.history) {
    for (const hive of earlier.hives) {
      if (hive.hive === label) out.push(openHive(earlier, hive, opening, new Map(), out))
    }
  }
  return out
}

function openHive(
  record: InspectionRecord,
  hive: Hive,
  { settings, today, trial }: Opening,
  yard: Map<string, HiveView>,
  past: readonly HiveView[],
  whole = false,
): HiveView {
  const byField = new Map<string, Placed[]>()
  const { note } = record
  const add = (readings: readonly Reading[], box: string | null, frame: number | null) => {
    for (const reading of readings) {
      const placed: Placed = { reading, value: reading.value, box, frame, side: reading.side, note }
      const list = byField.get(reading.field)
      if (list) list.push(placed)
      else byField.set(reading.field, [placed])
    }
  }
  add(hive.readings, null, null)
  const boxes: string[] = []
  for (const box of hive.boxes) {
    if (box.box !== null) boxes.push(box.box)
    add(box.readings, box.box, null)
    for (const frame of box.frames) add(frame.readings, box.box, frame.frame)
  }
  const own = new Set(byField.keys())
  // The visit's readings (weather, forage, a job for all hives) hold for a hive unless it has its own of that field.
  add(
    record.visit.filter((reading) => !own.has(reading.field)),
    null,
    null,
  )
  const remarks = record.remarks
    .filter((remark) => whole || remark.hive === hive.hive || remark.hive === '')
    .map((remark) => remark.quote)
  return { label: hive.hive, note, date: record.date, today, settings, boxes, byField, past, yard, remarks, trial }
}
