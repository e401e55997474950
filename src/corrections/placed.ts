import type { Hive, InspectionRecord, Reading } from '../record/schema.ts'
import type { Anchor, CorrectedPlace, Words } from './correction.ts'

/** A reading with its place in hand: corrections move these about, and the record is built again from them. */
export interface Placed {
  hive: string | null
  box: string | null
  frame: number | null
  reading: Reading
  /** RFC 6901 pointer into the record that it was taken from; empty for one that was added. */
  readonly pointer: string
}

/** Every reading of a record, in its order, with its JSON Pointer. */
export function placedIn(record: InspectionRecord): Placed[] {
  const out: Placed[] = []
  const take = (
    readings: readonly Reading[],
    base: string,
    place: { hive: string | null; box: string | null; frame: number | null },
  ): void => {
    for (const [i, reading] of readings.entries()) out.push({ ...place, reading, pointer: `${base}/readings/${i}` })
  }
  for (const [i, reading] of record.visit.entries())
    out.push({ hive: null, box: null, frame: null, reading, pointer: `/visit/${i}` })
  for (const [h, { hive, readings, boxes }] of record.hives.entries()) {
    take(readings, `/hives/${h}`, { hive, box: null, frame: null })
    for (const [b, box] of boxes.entries()) {
      take(box.readings, `/hives/${h}/boxes/${b}`, { hive, box: box.box, frame: null })
      for (const [f, frame] of box.frames.entries())
        take(frame.readings, `/hives/${h}/boxes/${b}/frames/${f}`, { hive, box: box.box, frame: frame.frame })
    }
  }
  return out
}

export const placeOf = ({ hive, box, frame, reading }: Placed): CorrectedPlace => ({
  hive,
  box,
  frame,
  side: reading.side,
})

/** How much of the note stands in an anchor on either side of the words. */
const CONTEXT = 24

/** Words of a note with what stands around them. */
export const wordsAt = (text: string, start: number, end: number): Words => ({
  quote: text.slice(start, end),
  start,
  end,
  before: text.slice(Math.max(0, start - CONTEXT), start),
  after: text.slice(end, end + CONTEXT),
})

/** The anchor of a reading, as it stands in `all` (the readings of the record that the person saw). */
export function anchorOf(placed: Placed, all: readonly Placed[], text: string): Anchor {
  const { reading, pointer } = placed
  const { field, value, start, end } = reading
  const twins = all.filter(
    ({ reading: r }) => r.field === field && ((r.start < end && start < r.end) || (r.start === start && r.end === end)),
  ).length
  const words = reading.quote === '' ? { quote: '', start, end } : wordsAt(text, start, end)
  return {
    pointer,
    field,
    value,
    place: placeOf(placed),
    words: { ...words, quote: reading.quote },
    ...(twins > 1 ? { twins } : {}),
    ...(reading.entry === undefined ? {} : { entry: reading.entry }),
  }
}

/** The record with these readings instead of its own. Labels of `gone` that have nothing left are left out. */
export function rebuilt(
  record: InspectionRecord,
  items: readonly Placed[],
  gone: ReadonlySet<string>,
): InspectionRecord {
  const visit: Reading[] = []
  const hives = new Map<string, Hive>()
  const hiveOf = (label: string): Hive => {
    let hive = hives.get(label)
    if (!hive) {
      hive = { hive: label, readings: [], boxes: [] }
      hives.set(label, hive)
    }
    return hive
  }
  for (const { hive, boxes } of record.hives) {
    const kept = hiveOf(hive)
    // The order of the boxes is the record's own.
    for (const { box } of boxes) kept.boxes.push({ box, readings: [], frames: [] })
  }
  for (const { hive: label, box: name, frame: number, reading } of items) {
    if (label === null) {
      visit.push(reading)
      continue
    }
    const hive = hiveOf(label)
    if (name === null && number === null) {
      hive.readings.push(reading)
      continue
    }
    let box = hive.boxes.find((one) => one.box === name)
    if (!box) {
      box = { box: name, readings: [], frames: [] }
      hive.boxes.push(box)
    }
    if (number === null) {
      box.readings.push(reading)
      continue
    }
    let frame = box.frames.find((one) => one.frame === number)
    if (!frame) {
      frame = { frame: number, readings: [] }
      box.frames.push(frame)
    }
    frame.readings.push(reading)
  }
  for (const [label, hive] of hives) {
    hive.boxes = hive.boxes.filter((box) => box.readings.length + box.frames.length > 0)
    for (const box of hive.boxes) box.frames.sort((a, b) => a.frame - b.frame)
    if (hive.readings.length + hive.boxes.length === 0 && gone.has(label)) hives.delete(label)
  }
  return { ...record, visit, hives: [...hives.values()] }
}
