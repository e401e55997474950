import type { Word } from '../language/word.ts'
import { packLists, packWords, unpackLists, unpackWords } from '../packed-numbers.ts'
import { addRows, createMemory, farther, positive, remembering, startOf, wide } from '../sequence-net.ts'
import { ownShapesOf } from './amount-net.ts'
import type { Clause } from './clause.ts'

/**
 * Tells word by word what an utterance says. Where the clause model knows the clause and a few words before it, this net remembers the
 * whole talk: a recurrent memory (a gated recurrent unit, Cho et al. 2014) runs over the words as they are heard, and three layers of
 * convolutions look around each word as far as its utterance reaches. What was heard is never looked at again, so a word costs the
 * same at any minute. Learned by `npm run tagger`.
 */
export interface TaggerNet {
  readonly facts: readonly string[]
  /** The row of each word in `vectors`; row 0 stands for every other word. */
  readonly words: ReadonlyMap<string, number>
  readonly shape: TaggerShape
  /** Words by numbers of a word. */
  readonly vectors: Float32Array
  /** What a word is when it begins a clause: sorts of borders by numbers of a word. */
  readonly borders: Float32Array
  /** Numbers of a word by the gates of each number remembered: forget what was, renew, what is new. */
  readonly heard: Float32Array
  readonly heardBase: Float32Array
  /** Numbers remembered by the same. */
  readonly again: Float32Array
  readonly againBase: Float32Array
  /** Three places by numbers of a word and numbers remembered, by what is found. */
  readonly around: Float32Array
  readonly aroundBase: Float32Array
  /** Three places by what is found, by what is found farther around. */
  readonly wider: Float32Array
  readonly widerBase: Float32Array
  readonly widest: Float32Array
  readonly widestBase: Float32Array
  /** What is found by facts. */
  readonly out: Float32Array
  readonly outBase: Float32Array
}

interface TaggerShape {
  /** Numbers of a word. */
  readonly word: number
  /** Numbers remembered. */
  readonly memory: number
  /** Things found at a word. */
  readonly finds: number
}

const LISTS = [
  'vectors',
  'borders',
  'heard',
  'heardBase',
  'again',
  'againBase',
  'around',
  'aroundBase',
  'wider',
  'widerBase',
  'widest',
  'widestBase',
  'out',
  'outBase',
] as const

/** As `tagger.json` keeps it: names with blanks between, and for each list of numbers its step and a letter a number. */
export type PackedTagger = Readonly<Record<'facts' | 'words' | 'shape' | (typeof LISTS)[number], string>>

export const packTagger = (net: TaggerNet): PackedTagger => ({
  facts: net.facts.join(' '),
  words: packWords(net.words),
  shape: [net.shape.word, net.shape.memory, net.shape.finds].join(' '),
  ...packLists(LISTS, net),
})

export function unpackTagger(packed: PackedTagger): TaggerNet {
  const [word = 0, memory = 0, finds = 0] = packed.shape.split(' ').map(Number)
  return {
    facts: packed.facts.split(' '),
    words: unpackWords(packed.words),
    shape: { word, memory, finds },
    ...unpackLists(LISTS, packed),
  }
}

/** The words of an utterance's clauses as the tagger reads them, and how each stands to the one before: the first of a clause by its border, the first of all, or neither. */
export const spokenIn = (
  clauses: readonly Clause[],
  words: readonly Word[],
): { said: string[]; borders: number[] } => ({
  said: clauses.flatMap(ownShapesOf),
  borders: clauses.flatMap(({ from, tokens }, nth) =>
    tokens.map((_, i) => (i > 0 ? 0 : nth === 0 ? 5 : 1 + words[from]!.brk)),
  ),
})

export interface Tagged {
  /** For each word the log odds of every fact, one word after the other. */
  readonly odds: Float32Array
  /** What is remembered behind the last word. */
  readonly memory: Float64Array
}

export interface Tagger {
  readonly facts: readonly string[]
  /** The words of an utterance, with their borders; `memory`: what was remembered of all before, null at the start. */
  tag(words: readonly string[], borders: readonly number[], memory: Float64Array | null): Tagged
}

/** How far apart the three words lie that each layer of convolutions looks at. */
const APART = [1, 2, 4] as const

export function createTagger(net: TaggerNet): Tagger {
  const { word: W, memory: M, finds: C } = net.shape
  const {
    vectors,
    borders: sorts,
    heard,
    around,
    aroundBase,
    wider,
    widerBase,
    widest,
    widestBase,
    out,
    outBase,
    ...gru
  } = wide(LISTS, net)
  const facts = net.facts.length
  /** What a word (or, below 0, a border) adds to the gates, and to what is found as the left, middle and right of three. */
  const addsOf = remembering((row) => {
    const adds = new Float64Array(3 * M + 3 * C)
    const [from, at] = row < 0 ? [sorts, -1 - row] : [vectors, row]
    for (let j = 0; j < W; j++) {
      const x = from[at * W + j]!
      for (let i = 0; i < 3 * M; i++) adds[i]! += x * heard[j * 3 * M + i]!
      for (let third = 0; third < 3; third++) {
        const w = (third * (W + M) + j) * C
        for (let c = 0; c < C; c++) adds[3 * M + third * C + c]! += x * around[w + c]!
      }
    }
    return adds
  })
  const remember = createMemory(M, gru)
  return {
    facts: net.facts,
    tag(words, borders, before) {
      const n = words.length
      let memory = before ?? new Float64Array(M)
      const found = startOf(aroundBase, n)
      for (let i = 0; i < n; i++) {
        const own = addsOf(net.words.get(words[i]!) ?? 0)
        const border = addsOf(-1 - borders[i]!)
        memory = remember(memory, own, border)
        for (let third = 0; third < 3; third++) {
          // this word is the left one of the three around the word behind it
          const to = i + 1 - third
          if (to < 0 || to >= n) continue
          const at = to * C
          const from = 3 * M + third * C
          for (let c = 0; c < C; c++) found[at + c]! += own[from + c]! + border[from + c]!
          addRows(found, at, memory, 0, M, around, (third * (W + M) + W) * C, C)
        }
      }
      positive(found)
      const all = farther(farther(found, n, C, wider, widerBase, APART[1]), n, C, widest, widestBase, APART[2])
      const odds = startOf(outBase, n)
      for (let i = 0; i < n; i++) addRows(odds, i * facts, all, i * C, C, out, 0, facts)
      return { odds: Float32Array.from(odds), memory }
    },
  }
}
