import type { Entry } from '../grammar/grammar.ts'
import type { Found } from '../grammar/match.ts'
import type { Span } from '../span.ts'

export type { CombsMeant } from '../language/combs-meant.ts'

/** How a clause stands to this visit. `denied` and `hedged` change a value; all others but `planned` mean "no reading". */
export type StandingKind =
  | 'denied'
  | 'hedged'
  | 'planned'
  | 'conditional'
  | 'general'
  | 'earlier'
  | 'wish'
  | 'other'
  | 'question'

/** One cue that bears on some words. */
export interface Cue {
  readonly kind: StandingKind | 'reset' | 'firm'
  /** Grammar line. */
  readonly by: string
  /** Word indices of the cue itself and of its reach, in the utterance. */
  readonly at: readonly [number, number]
  readonly from: number
  readonly to: number
  readonly run: boolean
  /** It denies the one thing named next ("no eggs"), not what may be said behind that. */
  readonly one?: boolean
}

/** One meaning that some words may have. */
export interface Meaning {
  readonly entry: Entry
  readonly captures: Readonly<Record<string, Found & { start: number }>>
}

/** A small phrase that means something. The meanings are competing readings of the same words, best first. */
export interface Mention extends Span {
  /** Word indices in the utterance, `to` exclusive. */
  readonly from: number
  readonly to: number
  readonly meanings: readonly Meaning[]
  /** What the words would mean piece by piece, for when no meaning fits the setting. */
  readonly pieces: readonly Mention[]
  readonly standing: readonly Cue[]
  /** Summed repair distance of the words. */
  readonly cost: number
}

/** Whether a kind of standing bears on a mention, and by which line. */
export const stands = (cues: readonly Cue[], kind: StandingKind | 'firm'): Cue | undefined =>
  cues.find((cue) => cue.kind === kind)
