/** Days from the laying of the egg. Each has a spread of a day (two for drones) with warmth, food and race. */
export const castes = {
  worker: { hatches: 3, sealed: 9, emerges: 21, spread: 1 },
  queen: { hatches: 3, sealed: 8, emerges: 16, spread: 1 },
  drone: { hatches: 3, sealed: 10, emerges: 24, spread: 2 },
} as const

/** What was seen of worker brood; absent where nobody said. */
export interface Stages {
  readonly eggs?: boolean | undefined
  readonly larvae?: boolean | undefined
  readonly sealed?: boolean | undefined
}

/**
 * How many days ago the last egg was laid, at least and at most, from the youngest stage seen. A stage that nobody spoke
 * of may have been there, so it opens the window to the young end. `atMost` null: longer ago than any worker brood lasts.
 */
export function lastLaid(stages: Stages): { atLeast: number; atMost: number | null } | undefined {
  const { hatches, sealed, emerges } = castes.worker
  if (stages.eggs) return { atLeast: 0, atMost: hatches }
  const noEggs = stages.eggs === false
  if (stages.larvae) return { atLeast: noEggs ? hatches : 0, atMost: sealed }
  const noOpen = stages.larvae === false
  const from = noOpen && noEggs ? sealed : noEggs ? hatches : 0
  if (stages.sealed) return { atLeast: from, atMost: emerges }
  if (noEggs && noOpen && stages.sealed === false) return { atLeast: emerges, atMost: null }
  if (noEggs && noOpen) return { atLeast: sealed, atMost: null }
  return undefined
}

/** Days from an event to a laying queen, from 1.4 of the trade's timetables: earliest, likely, latest. */
export const waits = {
  lossToEggs: { earliest: 18, likely: 28, latest: 45 },
  sealedToEggs: { earliest: 15, likely: 19, latest: 36 },
  emergedToEggs: { earliest: 8, likely: 14, latest: 28 },
} as const
