import type { Entry, Grammar } from '../grammar/grammar.ts'
import { matchPattern } from '../grammar/match.ts'
import { touched } from '../grammar/touch.ts'
import { classesOf } from './classes.ts'
import { Break, type Word } from './word.ts'

/**
 * Known mishearings and spellings become the words that were meant. Nothing is deleted: the first word takes the meant
 * form, the rest become fill words, and the cost of the repair stays on the word. Spellings cost nothing.
 */
export function repairWords(words: Word[], grammar: Grammar): void {
  const lookup = classesOf(words)
  for (let i = 0; i < words.length; i++) {
    const entries = grammar.repairs.byWord.get(words[i]!.norm)
    if (!entries) continue
    let best: { entry: Entry; end: number } | undefined
    for (const entry of entries) {
      const match = matchPattern(entry.pattern, words, i, lookup)
      if (!match || (best && match.end <= best.end)) continue
      if (!neighboursFit(entry, words, i, match.end, lookup)) continue
      best = { entry, end: match.end }
    }
    if (!best) continue
    const end = best.entry.id.startsWith('own words') ? spread(words, i, best.end, best.entry) : best.end
    apply(words, i, end, best.entry)
    i = end - 1
  }
}

/**
 * A keeper's one word for two ("blotter" for "beetle trap"): the last word's letters are shared out, so that there is a
 * word for each and all keep a place in the source. Gives where the words end now.
 */
function spread(words: Word[], from: number, end: number, entry: Entry): number {
  const wanted = String(entry.line.is).slice(2).split(' ').length - (end - from)
  const last = words[end - 1]!
  const more = Math.min(wanted, last.end - last.start - 1)
  if (more <= 0) return end
  const cut = last.end - more
  const rest = Array.from({ length: more }, (_, i) => ({
    ...last,
    start: cut + i,
    end: cut + i + 1,
    said: last.said.slice(cut + i - last.start, cut + i + 1 - last.start),
    brk: Break.none,
    mark: i === more - 1 ? last.mark : '',
  }))
  const head = { ...last, end: cut, said: last.said.slice(0, cut - last.start), mark: '' as const }
  words.splice(end - 1, 1, head, ...rest)
  return end + more
}

function neighboursFit(
  entry: Entry,
  words: readonly Word[],
  from: number,
  end: number,
  lookup: ReturnType<typeof classesOf>,
): boolean {
  if (touched(entry, words, from, end, lookup)) return false
  // what stands beyond a full stop is no neighbour
  const after =
    entry.after &&
    words[from]!.brk < Break.hard &&
    [1, 2].some((back) => from - back >= 0 && matchPattern(entry.after!, words, from - back, lookup)?.end === from)
  const before =
    entry.before &&
    end < words.length &&
    words[end]!.brk < Break.hard &&
    matchPattern(entry.before, words, end, lookup) !== undefined
  if (entry.after && entry.before) return Boolean(after || before)
  if (entry.after) return Boolean(after)
  if (entry.before) return Boolean(before)
  return true
}

function apply(words: Word[], from: number, end: number, entry: Entry): void {
  const meant = String(entry.line.is ?? '')
    .replace(/^[a-z]+:/, '')
    .split(' ')
  const isSpelling = entry.id.startsWith('spelling')
  const cost = isSpelling ? 0 : 1 - (entry.line.weight ?? 0.7)
  for (let j = from; j < end; j++) {
    const word = words[j]!
    const k = j - from
    if (k < meant.length)
      word.norm = k === end - from - 1 && meant.length > end - from ? meant.slice(k).join(' ') : meant[k]!
    else {
      word.norm = ''
      word.filler = true
    }
    if (!isSpelling) {
      word.cost = Math.max(word.cost, cost)
      word.by = entry.id
    }
  }
}
