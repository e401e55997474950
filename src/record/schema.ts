import * as z from '../zod.ts'

/**
 * The inspection record: what one note said, place by place. The zod schemas here are the only definition; the types and
 * the JSON Schema (`combscribe schema`) come out of them.
 */

const offset = z.int().check(z.nonnegative())

export const valueSchema = z.union([z.string(), z.number(), z.tuple([z.number(), z.number()])])
/** A reading's value: a word, a number, or a range `[low, high]`. */
export type Value = z.infer<typeof valueSchema>

/** A value as one number: itself, or the middle of a range; undefined for a word. */
export function numberOf(value: Value): number | undefined {
  if (Array.isArray(value)) return (value[0] + value[1]) / 2
  return typeof value === 'number' ? value : undefined
}

export const units = [
  'percent',
  'frames',
  'seams',
  'boxes',
  'count',
  'kg',
  'C',
  'perHundred',
  'perDay',
  'litres',
  'days',
] as const

export const evidenceSchema = z.strictObject({
  quote: z.string(),
  start: offset,
  end: offset,
  /** Which grammar line (`file:line`) or which step read it. */
  by: z.string(),
  /** What the words were taken for, where they look misheard. */
  taken: z.optional(z.string()),
})

export const alternativeSchema = z.strictObject({
  value: valueSchema,
  /** 0..1, on the same scale as the reading's own. */
  confidence: z.number().check(z.minimum(0), z.maximum(1)),
  /** Why it lost: `corrected`, `conflict`, `homophone`, … */
  why: z.string(),
  quote: z.optional(z.string()),
})

export const flagSchema = z.enum(['sure', 'check', 'guess'])
export type Flag = z.infer<typeof flagSchema>

/** The less sure of two flags. */
export const lessSure = (a: Flag, b: Flag): Flag => (a === 'guess' || b === 'guess' ? 'guess' : a === 'check' ? a : b)

export const readingSchema = z.strictObject({
  /** Stable inside one record: hive, place, field and a running number. */
  id: z.string(),
  field: z.string(),
  value: valueSchema,
  unit: z.nullable(z.enum(units)),
  side: z.nullable(z.enum(['A', 'B'])),
  /** 0..1: how likely the value is right. */
  confidence: z.number().check(z.minimum(0), z.maximum(1)),
  flag: flagSchema,
  how: z.enum(['stated', 'carried', 'derived', 'corrected']),
  quote: z.string(),
  start: offset,
  end: offset,
  /** Seconds into the recording, where the source has times. */
  at: z.nullable(z.number()),
  evidence: z.array(evidenceSchema),
  /** The next best values, best first. */
  alternatives: z.array(alternativeSchema),
  /** Feature name to its size; what `--why` explains. */
  features: z.record(z.string(), z.number()),
  /** Several feeds, treatments or groups of cells in one hive keep their details together by this number. */
  entry: z.optional(z.int().check(z.positive())),
  detail: z.optional(z.string()),
})
export type Reading = z.infer<typeof readingSchema>

export const frameSchema = z.strictObject({ frame: z.int().check(z.nonnegative()), readings: z.array(readingSchema) })
export const boxSchema = z.strictObject({
  /** Role and number within that role from the entrance up: `brood 1`, `super 2`; null where no box was named. */
  box: z.nullable(z.string()),
  readings: z.array(readingSchema),
  frames: z.array(frameSchema),
})
export const hiveSchema = z.strictObject({
  /** Normalised label (`2`, `blue`, `nuc 3`); `""` for the one hive that is never named. */
  hive: z.string(),
  readings: z.array(readingSchema),
  boxes: z.array(boxSchema),
})
export type Hive = z.infer<typeof hiveSchema>

/** Words that speak of bees and fit no field, with their place. */
export const remarkSchema = z.strictObject({
  hive: z.string(),
  box: z.nullable(z.string()),
  frame: z.nullable(z.int()),
  side: z.nullable(z.enum(['A', 'B'])),
  quote: z.string(),
  start: offset,
  end: offset,
  at: z.nullable(z.number()),
  standing: z.string(),
})
export type Remark = z.infer<typeof remarkSchema>

/** Something was said here whose value cannot be told: ask. */
export const questionSchema = z.strictObject({
  hive: z.string(),
  box: z.nullable(z.string()),
  frame: z.nullable(z.int()),
  side: z.nullable(z.enum(['A', 'B'])),
  field: z.string(),
  ask: z.string(),
  quote: z.string(),
  start: offset,
  end: offset,
  at: z.nullable(z.number()),
})
export type Question = z.infer<typeof questionSchema>

/** One stretch of the source and what became of it; the stretches add up to the whole source. */
export const accountEntrySchema = z.strictObject({
  start: offset,
  end: offset,
  kind: z.enum(['evidence', 'place', 'remark', 'talk', 'mark', 'space', 'suspect']),
  standing: z.string(),
  /** Readings that rest on these words. */
  readings: z.array(z.string()),
})
export type AccountEntry = z.infer<typeof accountEntrySchema>

export const recordSchema = z.strictObject({
  schema: z.literal('combscribe/record/1'),
  note: z.string(),
  /** ISO date of the visit, or null when neither the note nor the caller says. */
  date: z.nullable(z.string()),
  /** Readings about the visit as a whole (weather, date, yard, jobs for all hives). */
  visit: z.array(readingSchema),
  hives: z.array(hiveSchema),
  remarks: z.array(remarkSchema),
  questions: z.array(questionSchema),
  account: z.array(accountEntrySchema),
})
export type InspectionRecord = z.infer<typeof recordSchema>

/** One line of the flat view (`--as readings`): a reading with its whole place. */
export interface FlatReading {
  note: string
  hive: string
  box: string | null
  frame: number | null
  side: 'A' | 'B' | null
  field: string
  value: Value
  unit: (typeof units)[number] | null
  confidence: number
  flag: Flag
  how: Reading['how']
  quote: string
  start: number
  end: number
  at: number | null
  entry?: number
  detail?: string
}

/** A reading and where it belongs; `hive` is null for what was said of the visit. */
export interface PlacedReading {
  readonly hive: string | null
  readonly box: string | null
  readonly frame: number | null
  readonly reading: Reading
}

/**
 * Every reading of a record with its place and its JSON Pointer (RFC 6901), in the order: visit, then hive by hive, box by
 * box, frame by frame. `nested` is the way back.
 */
export function readingsIn(record: InspectionRecord): (PlacedReading & { readonly pointer: string })[] {
  const out: (PlacedReading & { readonly pointer: string })[] = []
  const add = (readings: readonly Reading[], at: string, place: Omit<PlacedReading, 'reading'>): void => {
    for (const [i, reading] of readings.entries()) out.push({ ...place, reading, pointer: `${at}/${i}` })
  }
  add(record.visit, '/visit', { hive: null, box: null, frame: null })
  for (const [h, { hive, readings, boxes }] of record.hives.entries()) {
    const atHive = `/hives/${h}`
    add(readings, `${atHive}/readings`, { hive, box: null, frame: null })
    for (const [b, { box, readings: ofBox, frames }] of boxes.entries()) {
      const atBox = `${atHive}/boxes/${b}`
      add(ofBox, `${atBox}/readings`, { hive, box, frame: null })
      for (const [f, { frame, readings: ofFrame }] of frames.entries())
        add(ofFrame, `${atBox}/frames/${f}/readings`, { hive, box, frame })
    }
  }
  return out
}

/**
 * Readings as a record holds them. `first` are hives, with their boxes, that come before others in this order, whether
 * they have readings or not; frames come in the order of their numbers.
 */
export function nested(
  items: readonly PlacedReading[],
  first: readonly { readonly hive: string; readonly boxes: readonly { readonly box: string | null }[] }[],
): Pick<InspectionRecord, 'visit' | 'hives'> {
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
  for (const { hive, boxes } of first)
    hiveOf(hive).boxes.push(...boxes.map(({ box }) => ({ box, readings: [], frames: [] })))
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
  for (const { boxes } of hives.values()) for (const box of boxes) box.frames.sort((a, b) => a.frame - b.frame)
  return { visit, hives: [...hives.values()] }
}

/** The same for the flat view: what was said of the visit stands at the hive `""`. */
export const placedReadings = (
  record: InspectionRecord,
): { hive: string; box: string | null; frame: number | null; reading: Reading }[] =>
  readingsIn(record).map(({ hive, box, frame, reading }) => ({ hive: hive ?? '', box, frame, reading }))

/** The flat view: one object a reading, keys as documented in README. */
export function flatten(record: InspectionRecord): FlatReading[] {
  return placedReadings(record).map(({ hive, box, frame, reading: r }) => ({
    note: record.note,
    hive,
    box,
    frame,
    side: r.side,
    field: r.field,
    value: r.value,
    unit: r.unit,
    confidence: r.confidence,
    flag: r.flag,
    how: r.how,
    quote: r.quote,
    start: r.start,
    end: r.end,
    at: r.at,
    ...(r.entry === undefined ? {} : { entry: r.entry }),
    ...(r.detail === undefined ? {} : { detail: r.detail }),
  }))
}
