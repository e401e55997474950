import type { Anchor, CorrectedPlace, Words } from './correction.ts'
import { type Placed, placeOf } from './placed.ts'

/**
 * Where words of an anchor stand in the note now: at their old place, or elsewhere in an edited note, if what stood
 * around them tells them from all others. Undefined where they cannot be told. Without `text` they are where they were.
 */
export function wordsNow(words: Words, text: string | undefined): { start: number; end: number } | undefined {
  const { quote, start, end, before = '', after = '' } = words
  if (text === undefined || quote === '') return { start, end }
  const fits = (at: number): number =>
    (text.slice(Math.max(0, at - before.length), at) === before ? 1 : 0) +
    (text.slice(at + quote.length, at + quote.length + after.length) === after ? 1 : 0)
  if (text.startsWith(quote, start) && fits(start) > 0) return { start, end: start + quote.length }
  const places: { at: number; fit: number }[] = []
  for (let at = text.indexOf(quote); at >= 0; at = text.indexOf(quote, at + 1)) places.push({ at, fit: fits(at) })
  const best = Math.max(0, ...places.map(({ fit }) => fit))
  const found = places.filter(({ fit }) => fit === best)
  return best > 0 && found.length === 1 ? { start: found[0]!.at, end: found[0]!.at + quote.length } : undefined
}

export type Found =
  | { readonly is: 'reading'; readonly placed: Placed }
  /** The words are there, and nothing of this field was read from them. */
  | { readonly is: 'nothing'; readonly start: number; readonly end: number }
  /** The words are gone, or it cannot be told which reading was meant. */
  | { readonly is: 'lost' }

/** The reading that an anchor means. It is never another than that: in doubt it is lost. */
export function findReading(anchor: Anchor, items: readonly Placed[], text: string | undefined): Found {
  const { field, words, place } = anchor
  const now = wordsNow(words, text)
  if (!now) return { is: 'lost' }
  const isMoved = now.start !== words.start
  const ofField = items.filter(({ reading }) => reading.field === field)
  const isOnly = (anchor.twins ?? 1) === 1
  const exact = ofField.find(
    (one) => !isMoved && one.pointer === anchor.pointer && sameWords(one, now) && samePlace(placeOf(one), place),
  )
  const isSame = isOnly || (exact !== undefined && sameValue(exact.reading.value, anchor.value))
  if (exact && isSame && exact.reading.entry === anchor.entry) return { is: 'reading', placed: exact }
  const same = ofField.filter((one) => sameWords(one, now))
  const leaning = ofField.filter((one) => overlaps(one, now))
  if (same.length === 0 && leaning.length > 0 && !isOnly) return { is: 'lost' }
  // A better grammar may take a word more or less into the quote: the same words still.
  const near = same.length > 0 ? same : leaning
  const here = near.filter((one) => samePlace(placeOf(one), place))
  if (here.length === 1 && isOnly) return { is: 'reading', placed: here[0]! }
  if (here.length > 0) {
    const told =
      here.find((one) => one.reading.entry === anchor.entry && sameValue(one.reading.value, anchor.value)) ??
      here.find((one) => sameValue(one.reading.value, anchor.value))
    return told ? { is: 'reading', placed: told } : { is: 'lost' }
  }
  if (near.length === 0) return { is: 'nothing', ...now }
  // Words without a quote (worked out) say nothing of which one is meant.
  return near.length === 1 && isOnly && words.quote !== '' ? { is: 'reading', placed: near[0]! } : { is: 'lost' }
}

const sameWords = ({ reading }: Placed, now: { start: number; end: number }): boolean =>
  reading.start === now.start && reading.end === now.end
const overlaps = ({ reading }: Placed, now: { start: number; end: number }): boolean =>
  reading.start < now.end && now.start < reading.end
const samePlace = (a: CorrectedPlace, b: CorrectedPlace): boolean =>
  a.hive === b.hive && a.box === b.box && a.frame === b.frame && a.side === b.side

export const sameValue = (a: unknown, b: unknown): boolean => JSON.stringify(a) === JSON.stringify(b)
