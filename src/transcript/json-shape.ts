import * as z from 'zod'
import { CombscribeError } from '../errors.ts'
import type { Source } from './source.ts'

export const seconds = z.number().nonnegative()
/** 0..1; a little above 1 occurs by rounding. */
export const unit = z.number().transform((value) => Math.min(1, Math.max(0, value)))
export const maybe = <T extends z.ZodType>(schema: T) => schema.nullish()

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

/** Reads `value` by `schema`; says in one sentence where it departs from the format it seems to be. */
export function checked<T extends z.ZodType>(schema: T, value: unknown, source: Source, title: string): z.output<T> {
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
