import { CombscribeError } from '../errors.ts'
import { valueSchema } from '../record/schema.ts'
import * as z from '../zod.ts'

/**
 * What a person put right in a record: an append-only list, replayed whenever the note is read again. Nothing in it is
 * ever edited; what was a mistake is undone by a further entry.
 */

const offset = z.int().check(z.nonnegative())
const side = z.nullable(z.enum(['A', 'B']))

/** Some words of the note. `before` and `after` find them again where the note was edited (as in a W3C TextQuoteSelector). */
export const wordsSchema = z.strictObject({
  quote: z.string(),
  start: offset,
  end: offset,
  before: z.optional(z.string()),
  after: z.optional(z.string()),
})
export type Words = z.infer<typeof wordsSchema>

export const correctedPlaceSchema = z.strictObject({
  /** A hive's label; `""` is the one that is never named, null the visit as a whole. */
  hive: z.nullable(z.string()),
  box: z.nullable(z.string()),
  frame: z.nullable(z.int().check(z.nonnegative())),
  side,
})
export type CorrectedPlace = z.infer<typeof correctedPlaceSchema>

export const placePartSchema = z.partial(correctedPlaceSchema)
/** The parts of a place that change. */
export type PlacePart = z.infer<typeof placePartSchema>

/** Which reading is meant: where it stood (RFC 6901), what it said, and the words it came from. */
export const anchorSchema = z.strictObject({
  pointer: z.string(),
  field: z.string(),
  value: valueSchema,
  place: correctedPlaceSchema,
  words: wordsSchema,
  /** How many readings of this field lean on these words; 1 where left out. Of several only the one at `place` is meant. */
  twins: z.optional(z.int().check(z.positive())),
  entry: z.optional(z.int().check(z.positive())),
})
export type Anchor = z.infer<typeof anchorSchema>

const readings = z.array(anchorSchema).check(z.minLength(1))
const label = z.string().check(z.refine((text) => text === text.toLowerCase(), 'write the hive in lower case'))
const stamp = {
  /** Unlike any other's. */
  id: z.string().check(z.minLength(1)),
  /** ISO date and time of the correction. */
  at: z.string().check(z.minLength(10)),
  who: z.string(),
}

export const correctionSchema = z.discriminatedUnion('kind', [
  /** It is as it was read. */
  z.strictObject({ ...stamp, kind: z.literal('confirm'), readings }),
  /** The value was another. */
  z.strictObject({ ...stamp, kind: z.literal('value'), readings, value: valueSchema }),
  /** It belongs to another place; parts left out stay. */
  z.strictObject({ ...stamp, kind: z.literal('place'), readings, to: placePartSchema }),
  /** No such thing was said. */
  z.strictObject({ ...stamp, kind: z.literal('withdraw'), readings }),
  /** A value that was missed, with the words in which it was said. */
  z.strictObject({
    ...stamp,
    kind: z.literal('add'),
    words: wordsSchema,
    field: z.string(),
    value: valueSchema,
    place: correctedPlaceSchema,
  }),
  /** All that was said from the beginning of `from` (to the end of `until`, or of the note) was at another place. */
  z.strictObject({
    ...stamp,
    kind: z.literal('move'),
    from: wordsSchema,
    until: z.nullable(wordsSchema),
    to: placePartSchema,
  }),
  /** The day of the visit. */
  z.strictObject({ ...stamp, kind: z.literal('date'), date: z.iso.date() }),
  /** Two labels are one hive. */
  z.strictObject({ ...stamp, kind: z.literal('merge'), from: label, into: label }),
  /** Two labels that sound alike are two hives: it is not asked again. */
  z.strictObject({ ...stamp, kind: z.literal('apart'), one: label, other: label }),
  /** As if that correction had never been made (undoing an undo brings it back). */
  z.strictObject({ ...stamp, kind: z.literal('undo'), undoes: z.string().check(z.minLength(1)) }),
])
export type Correction = z.infer<typeof correctionSchema>
export type CorrectionKind = Correction['kind']

/** A correction without who made it and when. */
export type CorrectionBody = Correction extends infer C ? (C extends Correction ? Omit<C, keyof Stamp> : never) : never
export interface Stamp {
  readonly id: string
  readonly at: string
  readonly who: string
}

/** Puts id, time and person to what was put right. `crypto.randomUUID` gives a fit id. */
export const stamped = (body: CorrectionBody, stamp: Stamp): Correction => ({ ...stamp, ...body }) as Correction

/** One line of JSON Lines. */
export const correctionLine = (correction: Correction): string => `${JSON.stringify(correction)}\n`

/** The corrections in a JSON Lines text. Throws `bad-record` with `where` and the line for one that is none. */
export function parseCorrections(text: string, where: string): Correction[] {
  return text.split('\n').flatMap((line, i) => (line.trim() === '' ? [] : [parseCorrection(line, `${where}:${i + 1}`)]))
}

function parseCorrection(line: string, where: string): Correction {
  let data: unknown
  try {
    data = JSON.parse(line)
  } catch {
    throw new CombscribeError('bad-record', 'not readable as JSON', where, 'mend that line or take it out')
  }
  return asCorrection(data, where)
}

/** A correction as it comes out of a database or a request. Throws `bad-record` for anything else. */
export function asCorrection(data: unknown, where: string): Correction {
  const result = correctionSchema.safeParse(data)
  if (result.success) return result.data
  const { path, message } = result.error.issues[0]!
  const what = `not a correction (${path.length > 0 ? `${path.map(String).join('.')}: ` : ''}${message})`
  throw new CombscribeError('bad-record', what, where, 'mend that line or take it out')
}

/** Those of some stored bodies that are corrections, and how many are none that this program knows. */
export function knownCorrections(bodies: readonly unknown[]): { corrections: Correction[]; unknown: number } {
  const corrections = bodies.flatMap((body) => {
    const result = correctionSchema.safeParse(body)
    return result.success ? [result.data] : []
  })
  return { corrections, unknown: bodies.length - corrections.length }
}

/** The corrections that still hold: without the undone ones and without the undoing; one that came twice counts once. */
export function standing(corrections: readonly Correction[]): Exclude<Correction, { kind: 'undo' }>[] {
  const each = [...new Map(corrections.map((one) => [one.id, one])).values()].reverse()
  const undone = new Set<string>()
  for (const correction of each)
    if (correction.kind === 'undo' && !undone.has(correction.id)) undone.add(correction.undoes)
  return each
    .reverse()
    .filter((one): one is Exclude<Correction, { kind: 'undo' }> => one.kind !== 'undo' && !undone.has(one.id))
}
