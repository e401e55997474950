import type { Span } from '../span.ts'

/**
 * What a recogniser wrote down, in one shape for every engine. `text` is what all offsets refer to and is never altered:
 * for plain and time-stamped text it is the decoded file itself; for subtitles and JSON it is the text of the
 * cues or segments, joined with line breaks (times and markup live in `segments`, not in `text`).
 */
export interface Transcript {
  /** The note's name: its file name without the ending. */
  readonly name: string
  /** Which format was recognised, for example `plain`, `srt`. */
  readonly format: string
  readonly text: string
  /** In the order of `text`, disjoint. What lies between them (time stamps, speaker labels) is not speech. */
  readonly segments: readonly Segment[]
  /** Word by word, where the engine gave it; in the order of `text`. */
  readonly words?: readonly TimedWord[]
  /** What the loader noticed and a person should hear of: a loop, an invented sign-off, a gap in the recording. */
  readonly notices?: readonly Notice[]
  /** What the confidence numbers are; they cannot be compared from one kind, or one engine, to another. */
  readonly confidenceKind?: ConfidenceKind
  /** When the recording was made, as far as the transcript itself says so (ISO date or date-time). */
  readonly recordedAt?: string
}

/**
 * `posterior`: from the recogniser's lattice; `tokenprob`: from its language model's tokens; `alignscore`: how well the
 * sound fits the word, which is weak evidence that the word is right; `vendor`: an estimate of unstated making; `rank`:
 * only the order means something.
 */
export type ConfidenceKind = 'posterior' | 'tokenprob' | 'alignscore' | 'vendor' | 'rank'

/** One stretch of speech as the engine cut it. */
export interface Segment extends Span {
  /** Seconds into the recording. */
  readonly at?: number
  readonly until?: number
  readonly speaker?: string
  readonly channel?: string
  /** 0..1, where the engine judged the stretch as a whole. */
  readonly confidence?: number
  /** 0..1: the engine's own estimate that nothing was said here. */
  readonly noSpeech?: number
  /** The recogniser had not settled these words yet when the file ended. */
  readonly partial?: boolean
  /** Why this segment may never have been said, for example `sign-off`, `loop`. It gives no readings and is kept. */
  readonly suspect?: string
  /** Lower-ranked whole-segment hypotheses of the engine, best first. */
  readonly alternatives?: readonly string[]
}

export interface TimedWord extends Span {
  readonly at?: number
  readonly until?: number
  /** 0..1, by the rule that the format's file states. */
  readonly confidence?: number
  /** True when the number was given for the whole segment and stands on each of its words alike. */
  readonly shared?: boolean
  readonly alternatives?: readonly string[]
}

export interface Notice {
  readonly kind:
    | 'loop'
    | 'sign-off'
    | 'echoed-hint'
    | 'gap'
    | 'other-script'
    | 'masked'
    | 'order'
    | 'cut-off'
    | 'broken-text'
  /** Where, as a span of `text`; absent when it concerns the whole. */
  readonly span?: Span
  readonly message: string
}
