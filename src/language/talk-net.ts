import { packLists, packWords, unpackLists, unpackWords } from '../packed-numbers.ts'
import { addRows, createMemory, farther, positive, remembering, startOf, wide } from '../sequence-net.ts'
import { TEENS, TENS } from './number-words.ts'

/**
 * What is so at each word of some talk, told from the whole of it: one memory runs over the words from the first, another from the
 * last, and convolutions look at what both hold around each word. Two such nets ship: where sentences and clauses begin
 * (`npm run borders`), and which words name a hive that is called (`npm run names`).
 */
export interface TalkNet {
  /** The row of each word in `vectors`; row 0 stands for every other word. */
  readonly words: ReadonlyMap<string, number>
  readonly shape: { readonly word: number; readonly memory: number; readonly finds: number }
  /** Words by numbers of a word. */
  readonly vectors: Float32Array
  /** Of the memory from the first word on: numbers of a word, and numbers remembered, by the gates of each number remembered. */
  readonly heard: Float32Array
  readonly heardBase: Float32Array
  readonly again: Float32Array
  readonly againBase: Float32Array
  /** The same of the memory from the last word back. */
  readonly backHeard: Float32Array
  readonly backHeardBase: Float32Array
  readonly backAgain: Float32Array
  readonly backAgainBase: Float32Array
  /** Three places by numbers of a word and numbers of both memories, by what is found. */
  readonly around: Float32Array
  readonly aroundBase: Float32Array
  readonly wider: Float32Array
  readonly widerBase: Float32Array
  /** What is found by what is asked. */
  readonly out: Float32Array
  readonly outBase: Float32Array
}

const LISTS = [
  'vectors',
  'heard',
  'heardBase',
  'again',
  'againBase',
  'backHeard',
  'backHeardBase',
  'backAgain',
  'backAgainBase',
  'around',
  'aroundBase',
  'wider',
  'widerBase',
  'out',
  'outBase',
] as const

/** As `border-net.json` and `name-net.json` keep it: words with blanks between, and for each list of numbers its step and a letter a number. */
export type PackedTalkNet = Readonly<Record<'words' | 'shape' | (typeof LISTS)[number], string>>

export const packTalkNet = ({ words, shape, ...lists }: TalkNet): PackedTalkNet => ({
  words: packWords(words),
  shape: [shape.word, shape.memory, shape.finds].join(' '),
  ...packLists(LISTS, lists),
})

export function unpackTalkNet(packed: PackedTalkNet): TalkNet {
  const [word = 0, memory = 0, finds = 0] = packed.shape.split(' ').map(Number)
  return { words: unpackWords(packed.words), shape: { word, memory, finds }, ...unpackLists(LISTS, packed) }
}

/** A word as the net reads it: small numbers in letters, all others alike. */
export function talkToken(norm: string): string {
  if (/^\d+$/.test(norm)) return SMALL[Number(norm) - 1] ?? GREAT
  return (TEENS[norm] ?? TENS[norm] ?? 0) > SMALL.length ? GREAT : norm
}
const SMALL = 'one two three four five six seven eight nine ten eleven twelve'.split(' ')
const GREAT = '##'

/** How far apart the three words lie that the second layer looks at. */
const APART = 2

/** Tells for each word of talk the log odds of all that a net is asked, a list each. */
export interface TalkReader<What extends string> {
  odds(words: readonly string[]): Readonly<Record<What, Float64Array>>
}

/** A reader by a net and what it is asked, in order. Linear in the number of words. */
export function talkReader<What extends string>(net: TalkNet, asked: readonly What[]): TalkReader<What> {
  const { word: W, memory: M, finds: C } = net.shape
  const { vectors, heard, heardBase, again, againBase, around, aroundBase, wider, widerBase, out, outBase, ...back } =
    wide(LISTS, net)
  const onward = createMemory(M, { heardBase, again, againBase })
  const backward = createMemory(M, {
    heardBase: back.backHeardBase,
    again: back.backAgain,
    againBase: back.backAgainBase,
  })
  /** What a word adds to the gates of both memories. */
  const addsOf = remembering((row) => {
    const adds = { on: new Float64Array(3 * M), back: new Float64Array(3 * M) }
    addRows(adds.on, 0, vectors, row * W, W, heard, 0, 3 * M)
    addRows(adds.back, 0, vectors, row * W, W, back.backHeard, 0, 3 * M)
    return adds
  })
  const width = W + 2 * M
  const odds = (words: readonly string[]) => {
    const n = words.length
    const rows = words.map((word) => net.words.get(talkToken(word)) ?? 0)
    // each word, and what is remembered at it from the first and from the last
    const at = new Float64Array(n * width)
    let memory: Float64Array = new Float64Array(M)
    for (let i = 0; i < n; i++) {
      memory = onward(memory, addsOf(rows[i]!).on)
      at.set(vectors.subarray(rows[i]! * W, (rows[i]! + 1) * W), i * width)
      at.set(memory, i * width + W)
    }
    memory = new Float64Array(M)
    for (let i = n - 1; i >= 0; i--) {
      memory = backward(memory, addsOf(rows[i]!).back)
      at.set(memory, i * width + W + M)
    }
    const found = startOf(aroundBase, n)
    for (let i = 0; i < n; i++)
      for (let third = 0; third < 3; third++) {
        const from = i + third - 1
        if (from >= 0 && from < n) addRows(found, i * C, at, from * width, width, around, third * width * C, C)
      }
    positive(found)
    const all = farther(found, n, C, wider, widerBase, APART)
    const told = startOf(outBase, n)
    for (let i = 0; i < n; i++) addRows(told, i * asked.length, all, i * C, C, out, 0, asked.length)
    const of = (k: number) => told.filter((_, i) => i % asked.length === k)
    return Object.fromEntries(asked.map((what, k) => [what, of(k)])) as Record<What, Float64Array>
  }
  return { odds }
}
