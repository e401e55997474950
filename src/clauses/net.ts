import { packLists, packWords, unpackLists, unpackWords } from '../packed-numbers.ts'
import { BEFORE } from './cues.ts'

/**
 * A small net that weighs a clause as a whole, beside the weights of single cues (`model.ts`): words that are said alike lie near
 * each other in it, and all facts learn from one another, so that it tells more of what was never said just so. Each word is
 * a short list of numbers; a window of three words passes over the clause (Collobert et al. 2011), of what it finds the most
 * and the mean count. Learned by `npm run clauses`.
 */
export interface ClauseNet {
  /** The row of each word in `vectors`; row 0 stands for every other word. */
  readonly words: ReadonlyMap<string, number>
  readonly shape: NetShape
  /** Words by numbers of a word. */
  readonly vectors: Float32Array
  /** Numbers of three words by what the window finds. */
  readonly window: Float32Array
  readonly windowBase: Float32Array
  /** Numbers of a word of the clause before by what is kept of it. */
  readonly before: Float32Array
  readonly beforeBase: Float32Array
  /** Facts by all that is kept of a clause. */
  readonly out: Float32Array
  readonly outBase: Float32Array
}

export interface NetShape {
  readonly facts: number
  /** Numbers of a word. */
  readonly word: number
  /** Things the window can find. */
  readonly finds: number
  /** Numbers kept of the clause before. */
  readonly last: number
}

/** So many words of a clause are looked at. */
export const LONGEST = 24

/** A net as `clauses.json` keeps it: words with blanks between, and for each list of numbers its step and a letter a number. */
export type PackedNet = Readonly<Record<'words' | 'shape' | (typeof LISTS)[number], string>>

const LISTS = ['vectors', 'window', 'windowBase', 'before', 'beforeBase', 'out', 'outBase'] as const

export function packNet(net: ClauseNet): PackedNet {
  const { facts, word, finds, last } = net.shape
  return { words: packWords(net.words), shape: [facts, word, finds, last].join(' '), ...packLists(LISTS, net) }
}

export function unpackNet(kept: PackedNet): ClauseNet {
  const [facts = 0, word = 0, finds = 0, last = 0] = kept.shape.split(' ').map(Number)
  return { words: unpackWords(kept.words), shape: { facts, word, finds, last }, ...unpackLists(LISTS, kept) }
}

/** What a net keeps of a clause. */
export type Kept = Float32Array

export interface NetReader {
  keep(tokens: readonly string[], before: readonly string[]): Kept
  /** The log odds of one fact. */
  odds(kept: Kept, fact: number): number
}

/** Reads clauses with a net, one after the other; what a word adds to a window is worked out once. */
export function createNetReader(net: ClauseNet): NetReader {
  const { words, shape, vectors, window, windowBase, out, outBase } = net
  const { word, finds, last } = shape
  const size = 2 * finds + word + last
  /** For each word what it adds as the first, the middle and the last of a window. */
  const adds = new Map<number, Float32Array>()
  const addsOf = (row: number): Float32Array => {
    let known = adds.get(row)
    if (!known) {
      known = new Float32Array(3 * finds)
      for (let third = 0; third < 3; third++)
        for (let j = 0; j < word; j++) {
          const x = vectors[row * word + j]!
          const from = (third * word + j) * finds
          for (let c = 0; c < finds; c++) known[third * finds + c]! += x * window[from + c]!
        }
      adds.set(row, known)
    }
    return known
  }
  const rowOf = (name: string): number => words.get(name) ?? 0
  return {
    keep(tokens, before) {
      const kept = new Float32Array(size)
      const rows = tokens.slice(0, LONGEST).map(rowOf)
      const share = 1 / Math.sqrt(rows.length)
      rows.forEach((row, i) => {
        const middle = addsOf(row)
        const left = i > 0 ? addsOf(rows[i - 1]!) : undefined
        const right = i + 1 < rows.length ? addsOf(rows[i + 1]!) : undefined
        for (let c = 0; c < finds; c++) {
          let found = windowBase[c]! + middle[finds + c]!
          if (left) found += left[c]!
          if (right) found += right[2 * finds + c]!
          if (found <= 0) continue
          if (found > kept[c]!) kept[c] = found
          kept[finds + c]! += share * found
        }
        for (let j = 0; j < word; j++) kept[2 * finds + j]! += share * vectors[row * word + j]!
      })
      keepBefore(net, before.slice(-BEFORE).map(rowOf), kept)
      return kept
    },
    odds(kept, fact) {
      let sum = outBase[fact]!
      const from = fact * size
      for (let i = 0; i < size; i++) sum += kept[i]! * out[from + i]!
      return sum
    },
  }
}

/** What is kept of the words before a clause. */
function keepBefore(
  { shape, vectors, before, beforeBase }: ClauseNet,
  rows: readonly number[],
  kept: Float32Array,
): void {
  const { word, finds, last } = shape
  const at = 2 * finds + word
  for (let b = 0; b < last; b++) kept[at + b] = beforeBase[b]!
  for (const row of rows)
    for (let j = 0; j < word; j++) {
      const x = vectors[row * word + j]! / BEFORE
      for (let b = 0; b < last; b++) kept[at + b]! += x * before[j * last + b]!
    }
  for (let b = 0; b < last; b++) if (kept[at + b]! < 0) kept[at + b] = 0
}
