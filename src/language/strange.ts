import { Break, type Utterance, type Word } from './word.ts'

/**
 * How misheard a note looks as a whole. Dictated hive talk keeps to a small vocabulary: an everyday word that no grammar
 * line knows ("jersey", "scientists") is more often a word misheard than a word said, and so are a known mishearing and a
 * pair of small words that English does not pair ("the of"). Names and rare words say nothing: they are left out.
 */
export interface Strangeness {
  spoken: number
  strange: number
}

export const newStrangeness = (): Strangeness => ({ spoken: 0, strange: 0 })

const ARTICLE = /^(a|an|the|my|your|our)$/
const PREPOSITION = /^(of|in|at|with|for|to)$/
const NEVER_BEHIND_ARTICLE = /^(a|an|the|of|to|is|are|was|were|and|it|that|for|with|but|or|in|at|she|he|they|we|you)$/
const NEVER_BEHIND_PREPOSITION = /^(of|to|is|are|was|were|and|but|or|he|she|we|they)$/

/** Adds the words of one utterance; the cost does not grow with what was heard before. */
export function hearStrange(
  count: Strangeness,
  { words, suspect }: Pick<Utterance, 'suspect'> & { readonly words: readonly Word[] },
  { common, trade }: { readonly common: ReadonlySet<string>; readonly trade: ReadonlySet<string> },
): void {
  if (suspect) return
  words.forEach((word, i) => {
    if (word.filler || !/^\p{L}/u.test(word.norm)) return
    count.spoken++
    const before = i > 0 && word.brk === Break.none ? words[i - 1]!.norm : ''
    const isOddPair =
      (ARTICLE.test(before) && NEVER_BEHIND_ARTICLE.test(word.norm)) ||
      (PREPOSITION.test(before) && NEVER_BEHIND_PREPOSITION.test(word.norm))
    if (word.cost > 0 || isOddPair || (common.has(word.norm) && !trade.has(word.norm))) count.strange++
  })
}

/** The share of strange words above what clear notes have; a short note is judged with caution. */
export function strangeness(count: Strangeness): number {
  return Math.max(0, strangeShare(count) - USUAL) / 0.05
}

/** The share of strange words; of a few words it says little, and is near what clear notes have. */
export const strangeShare = ({ spoken, strange }: Strangeness): number => (strange + 1) / (spoken + 40)

/** Of four clear notes in five, fewer words are strange (labelled notes: median 0.023, 90th percentile 0.051). */
const USUAL = 0.04
