import type { Word } from '../language/word.ts'

/**
 * Which of the word lists of the grammar have a word in the utterance in hand, at a place or behind it: most patterns are
 * refused by that alone. Lists are numbered, lists of the same words alike. For each list the last place is kept at which one of its
 * words was said, so every question is one comparison.
 */
const numbers = new Map<string, number>()
const listsWith = new Map<string, number[]>()

/** The utterance in hand, and its words as they were when it was looked through. */
let inHand: readonly Word[] | null = null
const said: string[] = []
/** Places are counted on from utterance to utterance, so that those of earlier ones need not be cleared: here it begins. */
let begin = 1
let lastOf = new Float64Array(4096)

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
  if (list === lastOf.length) {
    const longer = new Float64Array(2 * list)
    longer.set(lastOf)
    lastOf = longer
  }
  lastOf[list] = begin + said.findLastIndex((word) => words.has(word))
  return list
}

/** Takes an utterance in hand. */
function take(words: readonly Word[]): void {
  inHand = words
  begin += said.length + 1
  said.length = words.length
  for (let i = 0; i < words.length; i++) {
    said[i] = words[i]!.norm
    const lists = listsWith.get(said[i]!)
    if (lists) for (let k = 0; k < lists.length; k++) lastOf[lists[k]!] = begin + i
  }
}

/** To be called when the words of a list were changed. */
export function forget(words: readonly Word[]): void {
  if (inHand === words) inHand = null
}

/** Whether each of some word lists has a word in the utterance, at a place or behind it: a quick refusal before matching. */
export function occur(lists: readonly number[], words: readonly Word[], at = 0): boolean {
  if (inHand !== words) take(words)
  const from = begin + at
  for (let i = 0; i < lists.length; i++) if (lastOf[lists[i]!]! < from) return false
  return true
}
