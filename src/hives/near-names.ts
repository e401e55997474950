import { distance } from 'fastest-levenshtein'
import type { Vocabulary } from './names.ts'

/** Shorter names are too near to ordinary words. */
const SHORTEST = 5

/**
 * The hive of the yard file that a word was probably meant for: a recogniser that does not know "Pelargon" writes
 * "Pelargun". The word must be no ordinary one, begin with the same letter, and be one letter off (two from eight letters
 * up, common practice in spell checkers) from one name only. Otherwise undefined.
 */
export function nearName(
  word: string,
  yardNames: ReadonlyMap<string, string>,
  vocabulary: Vocabulary,
): string | undefined {
  if (word.length < SHORTEST - 1 || vocabulary.common.has(word) || vocabulary.trade.has(word)) return undefined
  const labels = new Set<string>()
  for (const [name, label] of yardNames) {
    if (name.length < SHORTEST || name.includes(' ') || name[0] !== word[0] || name === word) continue
    if (distance(word, name) <= (name.length >= 8 ? 2 : 1)) labels.add(label)
  }
  return labels.size === 1 ? [...labels][0] : undefined
}
