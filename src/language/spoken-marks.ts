import { Break, type Word } from './word.ts'

/**
 * Marks that are said and not set: "no eggs comma no larvae full stop". Who dictates so means a border, never the words, and
 * a border is what they become; their letters then lie between two words.
 */
export function takeSpokenMarks(words: readonly Word[]): Word[] {
  // "period", "dash" and "colon" are words besides: they are marks only where others are dictated
  const dictated = words.filter((_, i) => markAt(words, i, false) !== undefined).length > 1
  const out: Word[] = []
  let brk = Break.none
  for (let i = 0; i < words.length; ) {
    const mark = markAt(words, i, dictated)
    if (mark) {
      const last = out[out.length - 1]
      if (last && mark.mark !== '' && (last.mark === '' || last.mark === ',')) last.mark = mark.mark
      brk = Math.max(brk, mark.brk, words[i]!.brk)
      i = mark.end
      continue
    }
    const word = words[i]!
    if (brk > word.brk) word.brk = brk
    brk = Break.none
    out.push(word)
    i++
  }
  return out.length === 0 ? [...words] : out
}

/** "The size of a comma", "curled like commas", "came to a full stop": things, and no marks. */
const IS_THING = /^(a|an|the|of|like|as|little|tiny)$/

function markAt(
  words: readonly Word[],
  at: number,
  dictated: boolean,
): { end: number; brk: Break; mark: string } | undefined {
  const one = words[at]!.norm
  const before = words[at - 1]?.norm ?? ''
  const two = `${one} ${words[at + 1]?.norm ?? ''}`
  // "the new line of the field" is one; behind another mark it opens no line of talk
  if (/^(full stop|question mark|exclamation (mark|point)|new (line|paragraph))$/.test(two) && !IS_THING.test(before)) {
    const isLine = one === 'new'
    return {
      end: at + 2,
      brk: Break.hard,
      mark: one === 'question' ? '?' : one === 'exclamation' ? '!' : isLine ? '' : '.',
    }
  }
  if (IS_THING.test(before)) return undefined
  if (one === 'comma') return { end: at + 1, brk: Break.soft, mark: ',' }
  if (!dictated) return undefined
  if (one === 'period') return { end: at + 1, brk: Break.hard, mark: '.' }
  return /^(colon|semicolon|dash)$/.test(one) ? { end: at + 1, brk: Break.soft, mark: ',' } : undefined
}
