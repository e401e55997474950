/** Where a recording is cut: in a pause after speech, or at the latest after a while. */
export interface PauseOptions {
  /** Seconds of quiet that end an utterance. */
  readonly quiet: number
  /** Seconds after which it is cut anyhow. */
  readonly longest: number
}

/** Quiet is what is not this many times louder than the background heard so far. */
const LOUDER = 3
/** Root mean square of a silent room's microphone, of a full scale of 1. */
const FLOOR = 0.004

/**
 * Follows how loud it is and says when to cut. `hear(loudness, seconds)`: root mean square (0..1) at a moment; true:
 * cut here. `spoke()`: whether anything was said since the last cut.
 */
export function pauseFinder({ quiet, longest }: PauseOptions): {
  hear(loudness: number, seconds: number): boolean
  spoke(): boolean
} {
  let background = FLOOR
  let begun: number | undefined
  let lastLoud: number | undefined
  return {
    hear(loudness, seconds) {
      begun ??= seconds
      const isLoud = loudness > background * LOUDER
      // Wind and bees are the background: it is followed quickly down and slowly up.
      background = Math.max(
        FLOOR,
        loudness < background ? loudness : background * 0.98 + Math.min(loudness, background * 2) * 0.02,
      )
      if (isLoud) lastLoud = seconds
      const isCut = (lastLoud !== undefined && seconds - lastLoud >= quiet) || seconds - begun >= longest
      if (isCut) begun = seconds
      return isCut
    },
    spoke() {
      const did = lastLoud !== undefined
      lastLoud = undefined
      return did
    },
  }
}
