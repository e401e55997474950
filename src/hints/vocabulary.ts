import { english, englishVocabulary } from '../grammar/english.ts'
import type { Entry } from '../grammar/grammar.ts'
import type { Part } from '../grammar/pattern.ts'
import type { Yard } from '../yard.ts'

/** What a recogniser should expect, the most telling first. */
export interface Vocabulary {
  /** Names of hives and apiaries, and the keeper's own words, as written in the yard file. */
  readonly names: readonly string[]
  /** Phrases of one to four words, lower case. */
  readonly phrases: readonly string[]
  /** Single words, lower case: those that an everyday vocabulary lacks come first. */
  readonly words: readonly string[]
  /** What a comb can hold and a count can be of; for grammars. */
  readonly things: readonly string[]
}

/** Classes of grammar terms that name things of the trade. */
const THINGS = ['content', 'cells', 'cups', 'pest', 'mite', 'dmed', 'dfeed', 'dtrap', 'dstrip']
/** How notes are put together: what stands before and behind the numbers. */
const TURNS = [
  'frames of brood',
  'frames of bees',
  'seams of bees',
  'frames of stores',
  'capped brood',
  'brood pattern',
  'queen seen',
  'no queen seen',
  'queen cells',
  'no queen cells',
  'queen excluder',
  'brood box',
  'top super',
  'varroa drop',
  'mite wash',
  'hive number',
]
/** Trade words that the CMU Pronouncing Dictionary lacks: engines built on it cannot print them without being told. */
const LACKING =
  'queenless queenright requeen requeening supersedure nuc nucs apiary supers chalkbrood sacbrood foulbrood nosema propolis excluder fondant oxalic formic thymol varroa crownboard honeybound overwintered uncapped'.split(
    ' ',
  )

/** Phrases that a term line stands for, at most `most`: "queen cell/cells" is two. Skips and classes end the line. */
function spelledOut(parts: readonly Part[], most = 12): string[] {
  let out: string[][] = [[]]
  for (const part of parts) {
    if (part.kind === 'class' || part.kind === 'skip' || part.kind === 'ahead') return []
    const choices =
      part.kind === 'word'
        ? [...part.words].map((word) => [word])
        : part.alternatives.flatMap((alternative) => spelledOut(alternative, most).map((phrase) => phrase.split(' ')))
    if (part.optional) choices.push([])
    out = out.flatMap((head) => choices.map((tail) => [...head, ...tail])).slice(0, most)
  }
  return out.map((words) => words.filter(Boolean).join(' ')).filter((phrase) => phrase !== '')
}

/** Whether a word (lower case) means something to the grammar. */
export const isTradeWord = (word: string): boolean => englishVocabulary().trade.has(word)

/** The vocabulary of the English grammar and of a yard file. */
export function vocabularyOf(yard: Yard | undefined): Vocabulary {
  const grammar = english()
  const { common } = englishVocabulary()
  const isTrade = (word: string): boolean => !common.has(word) && /^[a-z]{3,}$/.test(word)
  const entries = new Set<Entry>([...grammar.terms.byWord.values()].flat())
  const things: string[] = []
  for (const entry of entries) {
    const kind = entry.line.is?.split(':')[0] ?? ''
    if (!THINGS.includes(kind) || (entry.line.weight ?? 1) < 0.9) continue
    for (const phrase of spelledOut(entry.pattern.parts)) {
      const words = phrase.split(' ')
      if (words.length <= 4 && words.every((word) => /^[a-z]+$/.test(word))) things.push(phrase)
    }
  }
  const plain = [...new Set(things)]
  const telling = (phrase: string): number => -phrase.split(' ').filter(isTrade).length
  const phrases = [...new Set([...TURNS, ...LACKING, ...[...plain].sort((a, b) => telling(a) - telling(b))])]
  const words = new Set([...LACKING, ...phrases].flatMap((phrase) => phrase.split(' ')))
  const trade = [...words].filter((word) => isTrade(word))
  return {
    names: namesOf(yard),
    phrases,
    words: [...trade, ...[...words].filter((word) => !isTrade(word) && word.length > 2)],
    things: plain.sort((a, b) => a.split(' ').length - b.split(' ').length || telling(a) - telling(b)).slice(0, 150),
  }
}

function namesOf(yard: Yard | undefined): string[] {
  const hives = (yard?.hives ?? []).flatMap(({ label, name }) => name ?? (/^\d+$/.test(label) ? [] : label))
  const apiaries = (yard?.apiaries ?? []).map(({ name }) => name)
  const own = Object.keys(yard?.words ?? {})
  return [...new Set([...hives, ...apiaries, ...own].map((name) => name.trim()).filter(Boolean))]
}
