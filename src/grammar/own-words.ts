import { compileGrammar, type EntryIndex, type Grammar } from './grammar.ts'

/** A keeper's own words and what they stand for, as word sequences that the grammar sees (lower case, no marks). */
export type OwnWords = readonly { readonly said: readonly string[]; readonly means: readonly string[] }[]

/** File name of lines that come from a keeper and not from the grammar that ships; their ids begin with it. */
export const OWN_FILE = 'own words.json'

/** The grammar with a keeper's own words: they become the words that were meant before anything is read. */
export function withOwnWords(grammar: Grammar, own: OwnWords): Grammar {
  const plain = (words: readonly string[]): string => words.map((word) => word.replace(/[^\p{L}\d']/gu, '')).join(' ')
  const lines = own
    .map(({ said, means }) => ({ say: plain(said), is: `w:${plain(means)}`, weight: 1 }))
    .filter(({ say, is }) => /\S/.test(say) && is.length > 2)
  if (lines.length === 0) return grammar
  const { repairs } = compileGrammar({ [OWN_FILE]: lines })
  return { ...grammar, repairs: joined(repairs, grammar.repairs) }
}

/** Entries of both; of those that take as many words, the first index wins. */
function joined(first: EntryIndex, second: EntryIndex): EntryIndex {
  const byWord = new Map(second.byWord)
  for (const [word, entries] of first.byWord) byWord.set(word, [...entries, ...(second.byWord.get(word) ?? [])])
  return { ...second, byWord }
}
