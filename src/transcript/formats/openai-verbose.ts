import * as z from 'zod'
import { checked, firstObject, firstOf, maybe, seconds } from '../json-shape.ts'
import { type HeardWord, layOut, type Piece } from '../lay-out.ts'
import type { Format } from '../source.ts'

/**
 * `verbose_json` of the OpenAI transcription API. Confidence: `exp(avg_logprob)` of a segment (the geometric mean of its
 * token probabilities) on all its words alike, since the API rates no words; the words only bring times.
 */
export const openaiVerbose: Format = {
  id: 'openai-verbose',
  title: 'OpenAI verbose_json',
  detect(source) {
    const top = firstObject(source)
    if (!top || source.json?.length !== 1 || typeof top.text !== 'string') return false
    const segment = firstOf(top.segments)
    if (segment)
      return typeof segment.text === 'string' && typeof segment.start === 'number' && !('confidence' in segment)
    return typeof firstOf(top.words)?.word === 'string' || (Array.isArray(top.segments) && 'task' in top)
  },
  open(source) {
    const document = checked(schema, source.json?.[0], source, 'OpenAI verbose_json')
    const words = (document.words ?? []).map(timedWord)
    if (!document.segments) return layOut([{ text: document.text, words }])
    let next = 0
    const pieces = document.segments.map((segment): Piece => {
      const from = next
      // A word belongs to the segment in which its middle lies; words and segments are both in order.
      while (next < words.length && middle(words[next]!) <= segment.end) next++
      return piece(segment, words.slice(from, next))
    })
    return layOut(pieces, 'tokenprob')
  },
}

const wordSchema = z.object({ word: z.string(), start: seconds, end: seconds })
const segmentSchema = z.object({ text: z.string(), start: seconds, end: seconds, avg_logprob: maybe(z.number()) })
const schema = z.object({
  text: z.string(),
  segments: maybe(z.array(segmentSchema)),
  words: maybe(z.array(wordSchema)),
})

const timedWord = ({ word, start, end }: z.output<typeof wordSchema>) => ({ text: word, at: start, until: end })
const middle = (word: { at: number; until: number }): number => (word.at + word.until) / 2

function piece(segment: z.output<typeof segmentSchema>, words: readonly HeardWord[]): Piece {
  const { text, start: at, end: until } = segment
  const confidence = segment.avg_logprob == null ? undefined : Math.min(1, Math.exp(segment.avg_logprob))
  if (confidence === undefined) return { text, at, until, ...(words.length > 0 && { words }) }
  if (words.length === 0) return { text, at, until, confidence }
  return { text, at, until, confidence, words: words.map((word) => ({ ...word, confidence, shared: true })) }
}
