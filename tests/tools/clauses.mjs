// What the words of clauses are learned from (src/clauses): the facts that they may tell, and where in a text each is told.
import { load } from './load.mjs'

export const inside = await load('tests/tools/clauses-inside.ts')

/** What is said in a text or a transcript, without what an engine only made up. */
export const utterancesIn = (input) =>
  inside
    .utterancesOf(typeof input === 'string' ? inside.openTranscript(input, 'note') : input)
    .filter(({ suspect }) => !suspect)

/** Values that a clause does not tell by itself: dates, names, what is converted, what other fields are worked out from. */
const NOT_BY_CLAUSE =
  /^(visit\.|weather\.temperature|stores\.weight|weight\.|honey\.(taken|moisture)|mites\.(perHundred|dropPerDay|days)|moved\.|stings$)|\.(when|amount)$|markColour|queen\.(year|origin)/

/** The fact that a clause may tell, `field=value`, `field=#`, `todo.x=due` for a plan; null for what is not told by clauses. */
export function factOf(field, value) {
  if (NOT_BY_CLAUSE.test(field)) return null
  // when it is due is read beside it
  if (/^todo\.\w+$/.test(field)) return value === 'no' ? null : `${field}=due`
  if (typeof value === 'number' || typeof value === 'object') return `${field}=#`
  return /^\d{4}-|[ =]/.test(value) ? null : `${field}=${value}`
}

export const tokensOf = (text) =>
  [...text.toLowerCase().matchAll(/[a-z0-9']+/g)].map(({ 0: word, index }) => ({
    word,
    start: index,
    end: index + word.length,
  }))

/** Where a quote stands in the text, nearest to a place. */
export function whereIs(words, quote, near) {
  const wanted = tokensOf(quote).map(({ word }) => word)
  let best = null
  for (let i = 0; wanted.length > 0 && i + wanted.length <= words.length; i++) {
    if (!wanted.every((word, k) => words[i + k].word === word)) continue
    const far = Math.abs(words[i].start - near)
    if (!best || far < best.far) best = { far, start: words[i].start, end: words[i + wanted.length - 1].end }
  }
  return best
}
