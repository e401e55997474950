import type { Word } from '../language/word.ts'
import { packLists, packWords, unpackLists, unpackWords } from '../packed-numbers.ts'
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

/** How each word of a clause stands to the one before: the first of a clause by its border, the first of an utterance, or neither. */
export const bordersOf = ({ from, tokens }: Clause, words: readonly Word[], isFirst: boolean): number[] =>
  tokens.map((_, i) => (i > 0 ? 0 : isFirst ? 5 : 1 + words[from]!.brk))

export interface Tagged {
  /** For each word the log odds of every fact, one word after the other. */
  readonly odds: Float32Array
  /** What is remembered behind the last word. */
  readonly memory: Float32Array
}

export interface Tagger {
  readonly facts: readonly string[]
  /** The words of an utterance, with their borders; `memory`: what was remembered of all before, null at the start. */
  tag(words: readonly string[], borders: readonly number[], memory: Float32Array | null): Tagged
}

/** How far apart the three words lie that each layer of convolutions looks at. */
const APART = [1, 2, 4] as const

export function createTagger(net: TaggerNet): Tagger {
  const { word: W, memory: M, finds: C } = net.shape
  const facts = net.facts.length
  const known = new Map<number, Float32Array>()
  /** What a word (or, below 0, a border) adds to the gates, and to what is found as the left, middle and right of three. */
  const addsOf = (row: number): Float32Array => {
    let adds = known.get(row)
    if (!adds) {
      adds = new Float32Array(3 * M + 3 * C)
      const [from, at] = row < 0 ? [net.borders, -1 - row] : [net.vectors, row]
      for (let j = 0; j < W; j++) {
        const x = from[at * W + j]!
        for (let i = 0; i < 3 * M; i++) adds[i]! += x * net.heard[j * 3 * M + i]!
        for (let third = 0; third < 3; third++) {
          const w = (third * (W + M) + j) * C
          for (let c = 0; c < C; c++) adds[3 * M + third * C + c]! += x * net.around[w + c]!
        }
      }
      known.set(row, adds)
    }
    return adds
  }
  const remember = createMemory(net)
  return {
    facts: net.facts,
    tag(words, borders, before) {
      const n = words.length
      const own = words.map((name) => addsOf(net.words.get(name) ?? 0))
      const border = borders.map((sort) => addsOf(-1 - sort))
      let memory: Float32Array = before ?? new Float32Array(M)
      let found = startOf(net.aroundBase, n)
      for (let i = 0; i < n; i++) {
        memory = remember(memory, own[i]!, border[i]!)
        for (let third = 0; third < 3; third++) {
          // this word is the left one of the three around the word behind it
          const to = i + 1 - third
          if (to < 0 || to >= n) continue
          const at = to * C
          const from = 3 * M + third * C
          for (let c = 0; c < C; c++) found[at + c]! += own[i]![from + c]! + border[i]![from + c]!
          addRows(found, at, memory, 0, M, net.around, (third * (W + M) + W) * C, C)
        }
      }
      positive(found)
      for (const [layer, base, apart] of [
        [net.wider, net.widerBase, APART[1]],
        [net.widest, net.widestBase, APART[2]],
      ] as const) {
        const more = startOf(base, n)
        for (let i = 0; i < n; i++)
          for (let third = 0; third < 3; third++) {
            const from = i + (third - 1) * apart
            if (from >= 0 && from < n) addRows(more, i * C, found, from * C, C, layer, third * C * C, C)
          }
        positive(more)
        for (let i = 0; i < more.length; i++) more[i]! += found[i]!
        found = more
      }
      const odds = startOf(net.outBase, n)
      for (let i = 0; i < n; i++) addRows(odds, i * facts, found, i * C, C, net.out, 0, facts)
      return { odds, memory }
    },
  }
}

/** One step of the memory: what is remembered behind a word of what was before it. */
function createMemory({ shape: { memory: M }, heardBase, again, againBase }: TaggerNet) {
  const gates = new Float32Array(3 * M)
  return (before: Float32Array, own: Float32Array, border: Float32Array): Float32Array => {
    gates.set(againBase)
    addRows(gates, 0, before, 0, M, again, 0, 3 * M)
    const next = new Float32Array(M)
    for (let i = 0; i < M; i++) {
      const heard = (at: number): number => own[at]! + border[at]! + heardBase[at]!
      const reset = 1 / (1 + Math.exp(-(heard(i) + gates[i]!)))
      const keep = 1 / (1 + Math.exp(-(heard(M + i) + gates[M + i]!)))
      const fresh = Math.tanh(heard(2 * M + i) + reset * gates[2 * M + i]!)
      next[i] = (1 - keep) * fresh + keep * before[i]!
    }
    return next
  }
}

function startOf(base: Float32Array, times: number): Float32Array {
  const out = new Float32Array(base.length * times)
  for (let i = 0; i < times; i++) out.set(base, i * base.length)
  return out
}

function positive(list: Float32Array): void {
  for (let i = 0; i < list.length; i++) if (list[i]! < 0) list[i] = 0
}

/** Adds to `out` from `at` on the rows of a table, each as often as a number of `by` says. */
function addRows(
  out: Float32Array,
  at: number,
  by: Float32Array,
  from: number,
  count: number,
  table: Float32Array,
  start: number,
  width: number,
): void {
  for (let j = 0; j < count; j++) {
    const x = by[from + j]!
    if (x === 0) continue
    const row = start + j * width
    for (let c = 0; c < width; c++) out[at + c]! += x * table[row + c]!
  }
}
