import { CombscribeError } from '../errors.ts'
import * as z from '../zod.ts'
import type { Source } from './source.ts'

/** A number as something else. */
const numberAs = <T>(other: (value: number) => T) => z.pipe(z.number(), z.transform(other))

export const seconds = numberAs((value) => Math.max(0, value))
export const milliseconds = numberAs((value) => Math.max(0, value) / 1000)
/** 100 nanoseconds each, sometimes written with a fraction. */
export const ticks = numberAs((value) => Math.max(0, value) / 10_000_000)
/** 0..1; a little above 1 occurs by rounding. */
export const unit = numberAs((value) => Math.min(1, Math.max(0, value)))
/** 0..1 from engines that write 0 (or -1) when they have no number to give. */
export const unitOrUnset = numberAs((value) => (value <= 0 ? undefined : Math.min(1, value)))
/** A natural logarithm of a probability. */
export const logarithm = numberAs((value) => Math.min(1, Math.exp(value)))
/** Speakers are numbers, letters or names. */
export const label = z.pipe(z.union([z.string(), z.number()]), z.transform(String))
export const maybe = <T extends z.ZodMiniType>(schema: T) => z.nullish(schema)

/** The first JSON value as an object, for looking at its keys. */
export function firstObject(source: Source): Record<string, unknown> | undefined {
  const value = source.json?.[0]
  return isObject(value) ? value : undefined
}

export const isObject = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value)

/** The first entry of an array, as an object; what a format's `detect` mostly asks for. */
export function firstOf(value: unknown): Record<string, unknown> | undefined {
  return Array.isArray(value) && isObject(value[0]) ? value[0] : undefined
}

/** All objects of the file in order, those of a top-level array included: what a stream of events comes down to. */
export const objectsOf = (source: Source): Record<string, unknown>[] => (source.json ?? []).flat().filter(isObject)

/** The first entry of a nested list: `nested(top, 'results', 'channels')`. */
export function nested(value: unknown, ...path: string[]): unknown {
  let inner: unknown = value
  for (const key of path) {
    if (Array.isArray(inner)) inner = inner[0]
    inner = isObject(inner) ? inner[key] : undefined
  }
  return inner
}

/** Reads `value` by `schema`; says in one sentence where it departs from the format it seems to be. */
export function checked<T extends z.ZodMiniType>(
  schema: T,
  value: unknown,
  source: Source,
  title: string,
): z.output<T> {
  const result = schema.safeParse(value)
  if (result.success) return result.data
  const issue = result.error.issues[0]
  const path = issue?.path.map(String).join('.') || 'the whole'
  throw new CombscribeError(
    'unknown-shape',
    `this looks like ${title}, but "${path}" is not as that format has it (${issue?.message ?? 'no detail'})`,
    source.name,
    'export the transcript again, or hand over its plain text',
  )
}
