import type { Span } from '../span.ts'

/** How strongly a word is cut off from the word before it. */
export enum Break {
  none = 0,
  /** No punctuation, but a new clause seems to begin here ("… frames of brood | there's a cell …"). */
  inferred = 1,
  /** Comma, dash, dots, a line break inside a caption. */
  soft = 2,
  /** Full stop, question or exclamation mark, a new line in dictated text, a new speaker. */
  hard = 3,
}

/**
 * One spoken word with its place in the source. Contractions are two words ("there's" is `there` + `'s`). All words have the
 * same properties, known or not: so they are read faster.
 */
export interface Word extends Span {
  /** The letters as written. */
  readonly said: string
  /** What the grammar sees: lower case, folded spelling, repaired mishearing. */
  norm: string
  /** How it is cut off from the word before. */
  brk: Break
  /** The mark that follows the word, if any: `?`, `.`, `!`, `,`, `…`. */
  mark: string
  /** Hesitations and fill words, which every pattern may step over. */
  filler: boolean
  /** Log odds that a hive is called by a name or number that begins here, and by one that goes on here (`named.ts`). */
  calls: number
  callsOn: number
  /** How far a repair had to reach, 0 for none; and what made it. */
  cost: number
  by: string | undefined
  at: number | undefined
  confidence: number | undefined
  /** What the engine thought of besides, best first. */
  alternatives: readonly string[] | undefined
}

/** The log odds of a word of which nothing is known. */
export const NO_CALL = -9

/** Whether no mark stands between these words: the engine may write none. */
export const isUnmarked = (words: readonly Word[]): boolean =>
  words.every((word, i) => i === 0 || word.brk < Break.soft)

/** A stretch of speech that is read in one go: a sentence, or a clause where nothing marks sentences. */
export interface Utterance extends Span {
  readonly words: readonly Word[]
  /** Whether a blank line stands before it. */
  readonly paragraph: boolean
  /** Seconds into the recording. */
  readonly at: number | null
  readonly speaker: string | null
  /** Never said at all, as far as the loader can tell (invented sign-offs, loops): it gives no readings. */
  readonly suspect: string | null
}
