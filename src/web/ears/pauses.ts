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

/** What was cut off: whether anything was said in it. */
export interface Stretch {
  readonly spoke: boolean
}

/**
 * Follows how loud it is and says when to cut. `hear(loudness, seconds)`: root mean square (0..1) at a moment; gives the
 * stretch that ends there, if one does. `end()`: the stretch that ends because listening does.
 */
export function pauseFinder({ quiet, longest }: PauseOptions): {
  hear(loudness: number, seconds: number): Stretch | undefined
  end(): Stretch
} {
  let background = FLOOR
  let begun: number | undefined
  let lastLoud: number | undefined
  const end = (): Stretch => {
    const spoke = lastLoud !== undefined
    begun = undefined
    lastLoud = undefined
    return { spoke }
  }
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
      return isCut ? end() : undefined
    },
    end,
  }
}
