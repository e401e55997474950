import { AT_ONCE, type Work } from './bit-by-bit.ts'
import { type Path, type Step, sameLabels } from './follow.ts'

/** As good as certain: nothing else was left in the search. */
export const CERTAIN = 12

/**
 * For each call that was gone over, by how much the best way through the whole note beats the best one that has another
 * hive in hand after it; in the units of the weights, at most `CERTAIN`. Ways that were merged go on as the one they became.
 */
export function* marginsOf(steps: readonly Step[]): Work<number[]> {
  const out = new Array<number>(steps.length)
  // what each way of the beam still gains up to the end of the note, in the beam's order
  let ahead: number[] = (steps[steps.length - 1]?.beam ?? []).map(() => 0)
  for (let i = steps.length - 1; i >= 0; i--) {
    if (i % AT_ONCE === 0) yield
    const { beam, takes } = steps[i]!
    out[i] = marginOf(beam, ahead)
    const earlier = steps[i - 1]?.beam ?? []
    const before = earlier.map((path) => {
      const at = beam.indexOf(path)
      return at < 0 ? Number.NEGATIVE_INFINITY : ahead[at]!
    })
    for (const { from, to, gain } of takes) {
      const at = earlier.indexOf(from)
      if (at >= 0) before[at] = Math.max(before[at]!, gain + ahead[beam.indexOf(to)]!)
    }
    ahead = before
  }
  return out
}

function marginOf(beam: readonly Path[], ahead: readonly number[]): number {
  let first = 0
  for (let i = 1; i < beam.length; i++) if (whole(i) > whole(first)) first = i
  let second = Number.NEGATIVE_INFINITY
  for (let i = 0; i < beam.length; i++)
    if (whole(i) > second && !sameLabels(beam[i]!.labels, beam[first]!.labels)) second = whole(i)
  return Math.min(CERTAIN, whole(first) - second)

  function whole(i: number): number {
    return beam[i]!.score + ahead[i]!
  }
}
