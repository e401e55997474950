import type { Word } from '../language/word.ts'
import type { Entry } from './grammar.ts'
import { type ClassLookup, matchPattern, mayMatch } from './match.ts'

/** How far before the words an `unless` pattern may begin. */
const BACK = 8

/** Whether one of the entry's `unless` patterns touches the words from..end. */
export function touched(entry: Entry, words: readonly Word[], from: number, end: number, lookup: ClassLookup): boolean {
  for (const pattern of entry.unless) {
    if (!mayMatch(pattern, words)) continue
    for (let j = Math.max(0, from - BACK); j < end; j++) {
      const hit = matchPattern(pattern, words, j, lookup)
      if (hit && hit.end > from) return true
    }
  }
  return false
}
