// @ts-expect-error: development tools are plain JavaScript
import { randomFrom } from '../tools/random.mjs'

/** Draws that a seed repeats. */
export interface Chance {
  /** Whether something of this probability happens. */
  hit(probability: number): boolean
  /** A whole number, both ends included. */
  whole(low: number, high: number): number
  /** One of a list. */
  one<T>(list: readonly T[]): T
  /** Bell-shaped around 0, most within ±1. */
  shake(): number
}

/** The same seed gives the same draws on every machine. */
export function chanceOf(seed: string): Chance {
  const next: () => number = randomFrom(seed)
  const whole = (low: number, high: number) => low + Math.floor(next() * (high - low + 1))
  return {
    hit: (probability) => next() < probability,
    whole,
    one: (list) => list[whole(0, list.length - 1)]!,
    shake: () => next() + next() + next() - 1.5,
  }
}
