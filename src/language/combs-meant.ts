import { plainNumberAt } from './amounts.ts'
import { frameRowAt } from './frame-rows.ts'
import { ORDINALS } from './number-words.ts'
import { Break, type Word } from './word.ts'

/** Combs as they are pointed at: the one in hand, those in hand, all of them, so many of the last or first, or by number. */
export interface CombsMeant {
  readonly which: 'it' | 'them' | 'all' | 'last' | 'first' | 'count' | 'numbers'
  /** How many, for `last`, `first` and `count`. */
  readonly n: number
  readonly frames: readonly number[]
  /** "Neither", "none of them". */
  readonly none: boolean
}

const IT = /^(it|that|this)$/
const THEM = /^(they|them|em|'em|those|these)$/
const COMB = /^(one|'un|un|frame|comb|bar)$/
const COMBS = /^(frames|combs|bars|ones)$/

/** What may stand right behind a number that calls a comb. */
const GOES_ON =
  /^(is|are|'s|was|can|will|'ll|and|then|so|too|off|out|home|back|in|stays?|goes|comes?|going|coming|staying|stopping|stops?|we|i|with|for|as|also|now|not|gets?|went|just|alone|be|down|up|where|behind|here|there)$/

/** What combs some words point at, the longest reading first: "that one", "both of them", "the first three", "two and six". */
export function combsMeantAt(words: readonly Word[], at: number): readonly { end: number; value: CombsMeant }[] {
  const norm = (i: number): string => (words[i] && (i === at || words[i]!.brk < Break.hard) ? words[i]!.norm : '')
  const out: { end: number; value: CombsMeant }[] = []
  const add = (end: number, which: CombsMeant['which'], n = 0, frames: readonly number[] = [], none = false): void => {
    out.push({ end, value: { which, n, frames, none } })
  }
  const countAt = (i: number): { n: number; end: number } | undefined => {
    // "having them, seven, eight and nine …" goes on to other combs
    const found = norm(i) === '' || frameRowAt(words, i) ? undefined : plainNumberAt(words, i)
    return found && found.n > 0 && found.n <= 40 && !norm(found.end).startsWith('percent') ? found : undefined
  }
  const overCombs = (i: number): number => (COMBS.test(norm(i)) || COMB.test(norm(i)) ? i + 1 : i)
  /** "of them" behind a word of how many. */
  const ofThem = (i: number): number =>
    norm(i) === 'of' && (THEM.test(norm(i + 1)) || IT.test(norm(i + 1))) ? overCombs(i + 2) : i
  const first = norm(at)
  if (/^(both|neither|none)$/.test(first))
    add(ofThem(at + 1), first === 'none' ? 'all' : 'last', 2, [], first !== 'both')
  else if (first === 'all') {
    const count = countAt(at + 1)
    if (count) add(ofThem(overCombs(count.end)), 'last', count.n)
    else if (ofThem(at + 1) > at + 1) add(ofThem(at + 1), 'all')
  } else if (THEM.test(first)) {
    const count = countAt(at + 1)
    if (count) add(overCombs(count.end), 'last', count.n)
    else add(/^(lot|all|both)$/.test(norm(at + 1)) ? at + 2 : overCombs(at + 1), 'them')
  } else if (IT.test(first)) {
    if (norm(at + 1) === 'pair') add(at + 2, 'last', 2)
    else if (norm(at + 1) === 'lot') add(at + 2, 'them')
    else add(COMB.test(norm(at + 1)) ? at + 2 : at + 1, 'it')
  } else if (first === 'the' || /^(first|last|lot|pair)$/.test(first)) {
    const i = first === 'the' ? at + 1 : at
    const j = norm(i) === 'whole' ? i + 1 : i
    if (norm(j) === 'lot') add(ofThem(j + 1), 'all')
    else if (norm(i) === 'pair') add(ofThem(i + 1), 'last', 2)
    else if (/^(first|last|other)$/.test(norm(i))) {
      const count = countAt(i + 1)
      if (count && count.n > 1 && norm(i) !== 'other')
        add(overCombs(count.end), norm(i) === 'first' ? 'first' : 'last', count.n)
    } else if (first === 'the') {
      const count = countAt(i)
      if (count && count.n > 1) add(ofThem(overCombs(count.end)), 'last', count.n)
    }
  }
  byNumber(words, at, norm, add)
  return out.sort((a, b) => b.end - a.end)
}

function byNumber(
  words: readonly Word[],
  at: number,
  norm: (i: number) => string,
  add: (end: number, which: CombsMeant['which'], n: number, frames: readonly number[]) => void,
): void {
  const called = /^(frames?|combs?|bars?|numbers?|no|nr)$/.test(norm(at))
  const i = called || norm(at) === 'the' ? at + 1 : at
  if (norm(i) === '') return
  // of a long row also its beginning: "take one and two, three stays"
  for (let row = frameRowAt(words, i); row; row = frameRowAt(words.slice(0, row.end - 1), i))
    if (!COMBS.test(norm(row.end))) add(row.end, 'numbers', 0, row.frames)
  const order = ORDINALS[norm(i)]
  if (order !== undefined) return add(COMB.test(norm(i + 1)) ? i + 2 : i + 1, 'numbers', 0, [order])
  const plain = norm(at) === 'the' ? undefined : plainNumberAt(words, i)
  // "take one for the nuc" is no number of a frame
  if (!plain || plain.n < 1 || plain.n > 40 || (!called && norm(at) === 'one')) return
  const next = words[plain.end]
  // "I have three cells": the number counts what follows
  if (!called && next && next.brk === Break.none && !COMBS.test(next.norm) && !GOES_ON.test(next.norm)) return
  if (COMBS.test(norm(plain.end))) add(plain.end + 1, 'count', plain.n, [])
  else add(plain.end, 'numbers', called ? 0 : plain.n, [plain.n])
}
