import { fieldInfo } from '../record/fields.ts'
import type { InspectionRecord, Reading, Value } from '../record/schema.ts'
import type { CorrectedPlace, PlacePart } from './correction.ts'
import { sameValue } from './find.ts'
import { type Placed, placeOf } from './placed.ts'

/** What is worked on while corrections are replayed: readings in hand, and what is known to be gone. */
export interface Work {
  items: Placed[]
  record: InspectionRecord
  readonly withdrawn: Set<string>
  /** What the correction in hand gave another place or value. */
  readonly changed: Set<Placed>
  /** Labels that lost readings to others: no hives, if nothing is left at them. */
  readonly gone: Set<string>
  readonly text: string | undefined
}

const whatIs = (placed: Placed): string => {
  const { field, value, start, end, entry, detail } = placed.reading
  return JSON.stringify([placeOf(placed), field, value, start, end, entry, detail])
}

/** A reader may give one and the same reading twice: no person could tell which of them is meant. */
export const alike = ({ items }: Work, placed: Placed): Placed[] => {
  const what = whatIs(placed)
  return items.filter((one) => one === placed || whatIs(one) === what)
}

/** What came to stand where the same was read from the same words already is that reading, and no second one. */
export function dropDoubles(work: Work): void {
  if (work.changed.size === 0) return
  const first = new Map<string, Placed>()
  work.items = work.items.filter((placed) => {
    const key = whatIs(placed)
    const twin = first.get(key)
    if (!twin || !(work.changed.has(twin) || work.changed.has(placed))) {
      first.set(key, placed)
      return true
    }
    if (placed.reading.confidence > twin.reading.confidence) twin.reading = { ...placed.reading, id: twin.reading.id }
    work.withdrawn.add(placed.reading.id)
    return false
  })
  work.changed.clear()
}

/** A hive whose last reading goes elsewhere was never one. */
export const leave = ({ gone }: Work, { hive }: Placed, to: PlacePart): void => {
  if (hive !== null && to.hive !== undefined && to.hive !== hive) gone.add(hive)
}

/** Puts a reading somewhere else, as finely as its field allows. */
export function put(work: Work, placed: Placed, to: PlacePart): void {
  const before = placeOf(placed)
  // What is said of the visit as a whole has no box.
  const { hive, box, frame, side } =
    to.hive === null && before.hive !== null ? { box: null, frame: null, side: null, ...to } : to
  if (hive !== undefined) placed.hive = hive
  if (box !== undefined) placed.box = box
  if (frame !== undefined) placed.frame = frame
  if (side !== undefined && side !== before.side) placed.reading = { ...placed.reading, side }
  if (!sameValue(before, placeOf(placed))) work.changed.add(placed)
}

/** A reading that a person says is there; the one that stands there already, where there is one. */
export function add(
  work: Work,
  what: {
    field: string
    value: Value
    place: CorrectedPlace
    quote: string
    start: number
    end: number
    by: string
    entry?: number | undefined
  },
): Placed {
  const { field, value, quote, start, end, by, entry } = what
  const { hive, box, frame, side } = what.place
  const there = work.items.find(
    (one) =>
      one.reading.field === field &&
      sameValue(one.reading.value, value) &&
      one.reading.start === start &&
      one.reading.end === end &&
      sameValue(placeOf(one), what.place),
  )
  const id = there?.reading.id ?? freeId([hive ?? '', box ?? '', frame ?? '', side ?? '', field].join('/'), work)
  const reading: Reading = {
    id,
    field,
    value,
    unit: fieldInfo(field)!.unit,
    side,
    confidence: 1,
    flag: 'sure',
    how: 'corrected',
    quote,
    start,
    end,
    at: there?.reading.at ?? timeAt(work, start),
    evidence: [{ quote, start, end, by }],
    alternatives: [],
    features: {},
    ...(entry === undefined ? {} : { entry }),
  }
  if (there) {
    there.reading = there.reading.how === 'corrected' ? there.reading : reading
    return there
  }
  const placed: Placed = { hive, box, frame, reading, pointer: '' }
  work.items.push(placed)
  return placed
}

/** The second at which the words nearest before were said. */
function timeAt({ items, record }: Work, start: number): number | null {
  let best: { start: number; at: number } | undefined
  for (const { start: from, at } of [...items.map(({ reading }) => reading), ...record.remarks])
    if (at !== null && from <= start && (!best || from > best.start)) best = { start: from, at }
  return best?.at ?? null
}

function freeId(key: string, { items }: Work): string {
  const taken = new Set(items.map(({ reading }) => reading.id))
  let n = 1
  while (taken.has(n === 1 ? key : `${key}/${n}`)) n++
  return n === 1 ? key : `${key}/${n}`
}
