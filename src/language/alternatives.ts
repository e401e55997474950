import type { Transcript } from '../transcript/transcript.ts'
import type { Word } from './word.ts'
import { splitWords } from './words.ts'

/** Longer stretches are not compared: an engine's alternatives are of one utterance. */
const LONGEST = 60

/**
 * An engine's other readings of a whole stretch, word by word: where one of them has another word in the same place, that
 * word is an alternative. Whether it wins is the noisy channel's to say (`mend.ts`).
 */
export function attachAlternatives(words: readonly Word[], transcript: Transcript): void {
  let from = 0
  for (const segment of transcript.segments) {
    while (from < words.length && words[from]!.end <= segment.start) from++
    if (!segment.alternatives) continue
    let to = from
    while (to < words.length && words[to]!.start < segment.end) to++
    const best = words.slice(from, to)
    if (best.length > LONGEST) continue
    for (const text of segment.alternatives) {
      const other = splitWords(text, 0, text.length, { linesWrap: true }).slice(0, LONGEST)
      for (const [word, norm] of differing(best, other)) word.alternatives = [...(word.alternatives ?? []), norm]
    }
  }
}

/** Words of `best` with the word that `other` has in their place, by the shortest way from one to the other. */
function differing(best: readonly Word[], other: readonly Word[]): [word: Word, norm: string][] {
  const costs = Array.from({ length: best.length + 1 }, (_, i) =>
    Array.from({ length: other.length + 1 }, (_, j) => (i === 0 ? j : j === 0 ? i : 0)),
  )
  const isSame = (i: number, j: number): boolean => best[i]!.norm === other[j]!.norm
  for (let i = 1; i <= best.length; i++)
    for (let j = 1; j <= other.length; j++)
      costs[i]![j] = Math.min(
        costs[i - 1]![j - 1]! + (isSame(i - 1, j - 1) ? 0 : 1),
        costs[i - 1]![j]! + 1,
        costs[i]![j - 1]! + 1,
      )
  const out: [Word, string][] = []
  for (let i = best.length, j = other.length; i > 0 && j > 0; ) {
    if (costs[i]![j] === costs[i - 1]![j - 1]! + (isSame(i - 1, j - 1) ? 0 : 1)) {
      i--
      j--
      if (!isSame(i, j)) out.push([best[i]!, other[j]!.norm])
    } else if (costs[i]![j] === costs[i - 1]![j]! + 1) i--
    else j--
  }
  return out
}
