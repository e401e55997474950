import { Break, type Word } from './word.ts'

/** Tells where sentences and clauses begin from the whole of some talk (`border-net.ts`; the page gets it after its first load). */
export interface BorderReader {
  /** For each word the log odds that a sentence begins with it, and that a clause does. */
  odds(words: readonly string[]): { readonly sentence: ArrayLike<number>; readonly clause: ArrayLike<number> }
}

/** From which log odds on a clause begins, and from which a sentence. */
const [CLAUSE, SENTENCE] = [-0.4, 0.8]

/** A clause hardly ends behind these. */
const HOLDS_ON = new Set(
  'no a an the of with and than my your their our from into by in on to at for is are or not if when that what was were be been has have had after before because until till while which side'.split(
    ' ',
  ),
)
/** These carry a clause on. */
const GOES_ON = /^(or|than|after|before|until|till|because)$/
/** Two words that are one thing. */
const ONE_THING =
  /^((hive|colony|nuc) number|queen (excluders?|cells?|cups?|cage)|hive beetles?|brood (box|boxes|frames?|nest)|crown board|cover board|mite (count|wash)|sugar (roll|shake|syrup)|alcohol wash|oxalic acid|formic acid|sticky board|mouse guard|bee escape|sealed brood|capped brood|drone (brood|cells?|comb))$/

/** The words that are weighed, by their place: those that only fill are stepped over. */
export const weighedWords = (words: readonly Pick<Word, 'norm' | 'filler'>[]): number[] =>
  words.flatMap(({ norm, filler }, i) => (filler || norm === '' ? [] : [i]))

/** In words without marks: puts borders where clauses and sentences begin, before the words that fill a gap. */
export function learnedBreaks(words: readonly Word[], borders: BorderReader): void {
  const at = weighedWords(words)
  const said = at.map((i) => words[i]!.norm)
  const { sentence, clause } = borders.odds(said)
  for (let k = 1; k < at.length; k++) {
    const isSentence = sentence[k]! > SENTENCE
    // behind the first word ("so") a clause hardly begins
    if (!isSentence && (k === 1 || clause[k]! <= CLAUSE)) continue
    if (!isSentence && (HOLDS_ON.has(said[k - 1]!) || GOES_ON.test(said[k]!))) continue
    if (ONE_THING.test(`${said[k - 1]} ${said[k]}`)) continue
    const word = words[at[k - 1]! + 1]!
    word.brk = Math.max(word.brk, isSentence ? Break.hard : Break.inferred)
  }
}
