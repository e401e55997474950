/**
 * What is known of the talk at hives as such, for telling words that were misheard: data of `grammar/en/`, made by
 * `npm run hearing` and read by `language/`. All lists hold words in lower case as the grammar sees them; `#` stands for
 * any whole number, `|` for the border of a sentence.
 */
export interface HearingData {
  /** `word sounds word sounds …`: pronunciations that the rules of spelling get wrong. */
  readonly sounds: readonly string[]
  /** `count word word … count word …`: how often words are said, of every so many words. */
  readonly words: readonly string[]
  /** `first: count second second … count second …`: which words follow which. */
  readonly pairs: readonly string[]
  /** `first second: count third …`. */
  readonly triples: readonly string[]
  /** `said: heard count, heard count, …`: what recognisers were found to write instead. */
  readonly heard: readonly string[]
  /** What words may be put right to, where it was worked out beforehand (`language/near-words.ts`, `Sounding`). */
  readonly meant?: (() => readonly (readonly [said: string, sounds: string, bits: number, count: number])[]) | undefined
}

/** The same with the everyday words, and those of the grammar. */
export interface Hearing {
  readonly data: HearingData
  readonly common: ReadonlySet<string>
  readonly trade: ReadonlySet<string>
}
