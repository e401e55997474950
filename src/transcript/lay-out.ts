import type { Span } from '../span.ts'
import type { Opened } from './source.ts'
import type { ConfidenceKind, Segment, TimedWord } from './transcript.ts'

/** A stretch of speech as a format's file reads it, before it has a place in `Transcript.text`. */
export interface Piece extends Omit<Segment, 'start' | 'end'> {
  readonly text: string
  readonly words?: readonly HeardWord[]
  /** Where in `text` (which then has no blank ends) the speech lies, when it is not the whole. */
  readonly turns?: readonly Turn[]
}

export interface Turn extends Span {
  readonly speaker?: string
}

export interface HeardWord extends Omit<TimedWord, 'start' | 'end'> {
  readonly text: string
}

/**
 * Joins pieces with line breaks and finds each word's place in them. A piece's confidence goes to all its words when the
 * engine gave none word by word: the same number for each, marked `shared`, since differences would be invented.
 */
export function layOut(pieces: readonly Piece[], confidenceKind?: ConfidenceKind): Opened {
  const texts: string[] = []
  const segments: Segment[] = []
  const words: TimedWord[] = []
  let length = 0
  for (const { text: said, words: heard, turns, ...times } of pieces) {
    const rest = ordered(times)
    const text = said.trim()
    if (text === '') continue
    const start = texts.length === 0 ? 0 : length + 1
    for (const turn of turns ?? [{ start: 0, end: text.length }]) {
      if (turn.end > turn.start) segments.push({ ...rest, ...turn, start: start + turn.start, end: start + turn.end })
    }
    for (const word of placeWords(text, heard ?? sharedWords(text, rest.confidence))) {
      words.push({ ...ordered(word), start: start + word.start, end: start + word.end })
    }
    texts.push(text)
    length = start + text.length
  }
  return {
    text: texts.join('\n'),
    segments,
    ...(words.length > 0 && { words }),
    ...(confidenceKind && { confidenceKind }),
  }
}

/** An end before its start says nothing; the words stay. */
function ordered<T extends { readonly at?: number; readonly until?: number }>(value: T): T {
  if (value.at === undefined || value.until === undefined || value.until >= value.at) return value
  const { until, ...rest } = value
  return rest as T
}

function sharedWords(text: string, confidence: number | undefined): HeardWord[] {
  if (confidence === undefined) return []
  return (text.match(/\S+/g) ?? []).map((word) => ({ text: word, confidence, shared: true }))
}

/** How far ahead a word is looked for before it counts as not in the text; engines tidy the text and not the words. */
const REACH = 60

/** Words to places, by their letters and digits alone: `brood` is found in `Brood.`, `half` in `half-full`. */
function placeWords(text: string, heard: readonly HeardWord[]): TimedWord[] {
  if (heard.length === 0) return []
  const { letters, places } = lettersOf(text)
  const placed: TimedWord[] = []
  let cursor = 0
  for (const { text: said, ...word } of heard) {
    const key = lettersOf(said).letters
    if (key === '') continue
    const found = letters.slice(cursor, cursor + REACH + key.length).indexOf(key)
    if (found < 0) continue
    const first = cursor + found
    cursor = first + key.length
    placed.push({ ...word, start: places[first]!, end: places[cursor - 1]! + 1 })
  }
  return placed
}

/** Only letters and digits, in lower case, each with its place in the text. */
function lettersOf(text: string): { letters: string; places: number[] } {
  const places: number[] = []
  const letters: string[] = []
  for (const match of text.matchAll(/[\p{L}\p{N}\p{M}%½¼¾*]/gu)) {
    const lower = match[0].toLowerCase()
    for (let unit = 0; unit < lower.length; unit++) places.push(match.index + Math.min(unit, match[0].length - 1))
    letters.push(lower)
  }
  return { letters: letters.join(''), places }
}
