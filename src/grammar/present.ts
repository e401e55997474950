import type { Word } from '../language/word.ts'

/**
 * Which of the word lists of the grammar have a word in the utterance in hand, at a place or behind it: most patterns are
 * refused by that alone. Lists are numbered, lists of the same words alike. For each word the lists that have it are kept as
 * bits; of an utterance, at each place, the bits of all words from there on. So every question is one bit.
 */
const numbers = new Map<string, number>()
const listsWith = new Map<string, number[]>()
/** Numbers of 32 bits that hold one bit a list. */
let size = 64
/** The bits of words that were said. */
const bits = new Map<string, Uint32Array>()

/** The utterance in hand, its words as they were when it was looked through, and for each place the bits from there on. */
let inHand: readonly Word[] | null = null
const said: string[] = []
let from = new Uint32Array(64 * size)

/** The number of a word list. */
export function numberOfList(words: ReadonlySet<string>): number {
  const key = words.size === 1 ? words.values().next().value! : [...words].sort().join(' ')
  const known = numbers.get(key)
  if (known !== undefined) return known
  const list = numbers.size
  numbers.set(key, list)
  for (const word of words) {
    const lists = listsWith.get(word)
    if (lists) lists.push(list)
    else listsWith.set(word, [list])
  }
  if (list >= size * 32) {
    size *= 2
    bits.clear()
    inHand = null
    return list
  }
  for (const word of words) mark(bits.get(word), 0, list)
  for (let place = said.findLastIndex((word) => words.has(word)); place >= 0; place--) mark(from, place * size, list)
  return list
}

function mark(row: Uint32Array | undefined, start: number, list: number): void {
  if (row) row[start + (list >> 5)]! |= 1 << (list & 31)
}

function bitsOf(word: string): Uint32Array | undefined {
  let row = bits.get(word)
  if (!row) {
    const lists = listsWith.get(word)
    if (!lists) return undefined
    row = new Uint32Array(size)
    for (const list of lists) mark(row, 0, list)
    bits.set(word, row)
  }
  return row
}

/** Takes an utterance in hand. */
function take(words: readonly Word[]): void {
  inHand = words
  const { length } = words
  said.length = length
  if (from.length < (length + 1) * size) from = new Uint32Array((length + 1) * size * 2)
  from.fill(0, length * size, (length + 1) * size)
  for (let i = length - 1; i >= 0; i--) {
    const start = i * size
    said[i] = words[i]!.norm
    const row = bitsOf(said[i]!)
    if (!row) from.copyWithin(start, start + size, start + 2 * size)
    else for (let k = 0; k < size; k++) from[start + k] = from[start + size + k]! | row[k]!
  }
}

/** To be called when the words of a list were changed. */
export function forget(words: readonly Word[]): void {
  if (inHand === words) inHand = null
}

/** Whether each of some word lists has a word in the utterance, at a place or behind it: a quick refusal before matching. */
export function occur(lists: readonly number[], words: readonly Word[], at = 0): boolean {
  if (inHand !== words) take(words)
  const start = at * size
  for (let i = 0; i < lists.length; i++) {
    const list = lists[i]!
    if ((from[start + (list >> 5)]! & (1 << (list & 31))) === 0) return false
  }
  return true
}
