import { type Hive, type InspectionRecord, nested, type Reading, readingsIn } from '../record/schema.ts'
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

/** Every reading of a record, in its order, to be moved about. */
export const placedIn = (record: InspectionRecord): Placed[] => readingsIn(record)

/** What was said at a hive, in the order in which it was said; without what was worked out. */
export const saidAtHives = (all: readonly Placed[]): (Placed & { hive: string })[] =>
  all
    .filter((one): one is Placed & { hive: string } => one.hive !== null && one.reading.quote !== '')
    .sort((a, b) => a.reading.start - b.reading.start)

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
  const { visit, hives } = nested(items, record.hives)
  for (const hive of hives) hive.boxes = hive.boxes.filter((box) => box.readings.length + box.frames.length > 0)
  const isLeft = ({ hive, readings, boxes }: Hive): boolean => readings.length + boxes.length > 0 || !gone.has(hive)
  return { ...record, visit, hives: hives.filter(isLeft) }
}
