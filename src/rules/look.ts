import type { Value } from '../record/schema.ts'
import type { HiveView, Placed } from './hive-view.ts'

/** How rules ask a hive for readings. Every reading handed out is remembered, so that its other values can be tried. */

const none: readonly Placed[] = []

export function readings(hive: HiveView, field: string): readonly Placed[] {
  const found = hive.byField.get(field)
  if (!found) return none
  const { touched, instead } = hive.trial
  if (!instead) {
    for (const placed of found) touched.add(placed)
    return found
  }
  if (found.every((placed) => placed.reading !== instead.reading)) return found
  return found.map((placed) => (placed.reading === instead.reading ? { ...placed, value: instead.value } : placed))
}

/** A yes or no, and the readings it rests on. One yes wins over any no: it was seen somewhere. */
export interface Said {
  readonly is: boolean | undefined
  readonly by: readonly Placed[]
}

export const unsaid: Said = { is: undefined, by: none }

export function says(hive: HiveView, field: string): Said {
  const found = readings(hive, field)
  const yes = found.filter((placed) => placed.value === 'yes')
  if (yes.length > 0) return { is: true, by: yes }
  const no = found.filter((placed) => placed.value === 'no')
  return no.length > 0 ? { is: false, by: no } : unsaid
}

/** The words that a field was given, as a set, with the readings. */
export function words(hive: HiveView, field: string): { is: ReadonlySet<string>; by: readonly Placed[] } {
  const by = readings(hive, field)
  return { is: new Set(by.map((placed) => String(placed.value))), by }
}

/** The single word of a field; where it was said more than once, the last said. */
export function word(hive: HiveView, field: string): { is: string | undefined; by: readonly Placed[] } {
  const last = readings(hive, field).at(-1)
  return { is: last === undefined ? undefined : String(last.value), by: last ? [last] : none }
}

export interface Span3 {
  readonly low: number
  readonly likely: number
  readonly high: number
}
export interface Counted extends Span3 {
  readonly by: readonly Placed[]
}

export function span3(value: Value): Span3 | undefined {
  if (typeof value === 'number') return { low: value, likely: value, high: value }
  if (typeof value === 'string') return undefined
  const [low, high] = value
  return { low, likely: (low + high) / 2, high }
}

/** Adds up several counts. */
export function total(placed: readonly Placed[]): Counted | undefined {
  let [low, likely, high] = [0, 0, 0]
  const by: Placed[] = []
  for (const one of placed) {
    const span = span3(one.value)
    if (!span) continue
    low += span.low
    likely += span.likely
    high += span.high
    by.push(one)
  }
  return by.length > 0 ? { low, likely, high, by } : undefined
}

/**
 * A number of the hive: what was said of the hive as a whole (the last said, unless they are separate entries), else the
 * sum of what was said of its boxes.
 */
export function amount(hive: HiveView, field: string): Counted | undefined {
  const found = readings(hive, field).filter((placed) => placed.frame === null)
  const whole = found.filter((placed) => placed.box === null && typeof placed.value !== 'string')
  if (whole.length > 0) {
    const entries = new Set(whole.map((placed) => placed.reading.entry))
    return entries.size > 1 && !entries.has(undefined) ? total(whole) : total(whole.slice(-1))
  }
  return total(found)
}

export const isSuper = (box: string | null): boolean => box !== null && /^(super|honey)/.test(box)
export const isBrood = (box: string | null): boolean => box !== null && /^(brood|nest)/.test(box)

/** The number of one kind of frame in one box, where it was said of that box. */
export function amountIn(hive: HiveView, field: string, box: string | null): Counted | undefined {
  return total(
    readings(hive, field)
      .filter((placed) => placed.box === box && placed.frame === null)
      .slice(-1),
  )
}

/** The last said at each place: a place is judged once. */
export function lastPerPlace(placed: readonly Placed[]): Placed[] {
  return [...new Map(placed.map((one) => [`${one.box}|${one.frame}|${one.side}`, one])).values()]
}
