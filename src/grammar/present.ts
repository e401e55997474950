import type { Word } from '../language/word.ts'

/**
 * Which of the word lists of the grammar have a word in the utterance in hand, and where the last one stands: most
 * patterns are refused by that alone. Lists are numbered, lists of the same words alike; for each word it is kept which
 * lists have it, so an utterance is looked through once and every question after that is one number.
 */
const numbers = new Map<string, number>()
const listsWith = new Map<string, number[]>()
/** For each list the last place of one of its words in the utterance in hand; -1 where it has none. */
let lastAt = new Int32Array(4096).fill(-1)

/** The utterance in hand, its words as they were when it was looked through, and the lists that are marked for it. */
let inHand: readonly Word[] | null = null
const said: string[] = []
const marked: number[] = []

/** The number of a word list. */
export function numberOfList(words: ReadonlySet<string>): number {
  const key = words.size === 1 ? words.values().next().value! : [...words].sort().join(' ')
  const known = numbers.get(key)
  if (known !== undefined) return known
  const list = numbers.size
  numbers.set(key, list)
  if (list >= lastAt.length) {
    const more = new Int32Array(lastAt.length * 2).fill(-1)
    more.set(lastAt)
    lastAt = more
  }
  for (const word of words) {
    const lists = listsWith.get(word)
    if (lists) lists.push(list)
    else listsWith.set(word, [list])
  }
  const place = said.findLastIndex((word) => words.has(word))
  if (place >= 0) mark(list, place)
  return list
}

function mark(list: number, place: number): void {
  if (lastAt[list]! < 0) marked.push(list)
  lastAt[list] = place
}

/** Takes an utterance in hand. */
function take(words: readonly Word[]): void {
  for (let k = 0; k < marked.length; k++) lastAt[marked[k]!] = -1
  marked.length = 0
  said.length = words.length
  inHand = words
  for (let i = 0; i < words.length; i++) {
    said[i] = words[i]!.norm
    const lists = listsWith.get(said[i]!)
    if (lists) for (let k = 0; k < lists.length; k++) mark(lists[k]!, i)
  }
}

/** To be called when the words of a list were changed. */
export function forget(words: readonly Word[]): void {
  if (inHand === words) inHand = null
}

/** Whether each of some word lists has a word in the utterance, at a place or behind it: a quick refusal before matching. */
export function occur(lists: readonly number[], words: readonly Word[], from = 0): boolean {
  if (inHand !== words) take(words)
  for (let i = 0; i < lists.length; i++) if (lastAt[lists[i]!]! < from) return false
  return true
}
