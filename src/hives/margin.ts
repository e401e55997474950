import type { Path, Step } from './follow.ts'

/** As good as certain: nothing else was left in the search. */
export const CERTAIN = 12

/**
 * For each call that was gone over, by how much the best way through the whole note beats the best one that has another
 * hive in hand after it; in the units of the weights, at most `CERTAIN`. Ways that were merged go on as the one they became.
 */
export function marginsOf(steps: readonly Step[]): number[] {
  const out = new Array<number>(steps.length)
  // what each way of the beam still gains up to the end of the note
  let ahead = new Map<Path, number>()
  for (const path of steps[steps.length - 1]?.beam ?? []) ahead.set(path, 0)
  for (let i = steps.length - 1; i >= 0; i--) {
    const { beam, takes } = steps[i]!
    out[i] = marginOf(beam, ahead)
    const before = new Map<Path, number>()
    for (const path of steps[i - 1]?.beam ?? []) before.set(path, ahead.get(path) ?? Number.NEGATIVE_INFINITY)
    for (const { from, to, gain } of takes) {
      const whole = gain + ahead.get(to)!
      if (whole > (before.get(from) ?? Number.NEGATIVE_INFINITY)) before.set(from, whole)
    }
    ahead = before
  }
  return out
}

function marginOf(beam: readonly Path[], ahead: ReadonlyMap<Path, number>): number {
  const best = new Map<string, number>()
  for (const path of beam) {
    const key = path.labels.join('+')
    best.set(key, Math.max(best.get(key) ?? Number.NEGATIVE_INFINITY, path.score + ahead.get(path)!))
  }
  const [first, second = Number.NEGATIVE_INFINITY] = [...best.values()].sort((a, b) => b - a)
  return Math.min(CERTAIN, first! - second)
}
