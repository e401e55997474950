import * as z from '../../zod.ts'
import { pieceOfWords } from '../group-words.ts'
import { checked, firstObject, firstOf, maybe, seconds } from '../json-shape.ts'
import { layOut, type Piece } from '../lay-out.ts'
import type { Format } from '../source.ts'
import { whisperPiece, whisperSegment } from '../whisper-segment.ts'

/**
 * `verbose_json` of the OpenAI transcription API. Confidence: that of the segment (see `whisper-segment.ts`) on all its
 * words alike, since the API rates no words; the words only bring times.
 */
export const openaiVerbose: Format = {
  id: 'openai-verbose',
  title: 'OpenAI verbose_json',
  detect(source) {
    const top = firstObject(source)
    if (!top || source.json?.length !== 1 || typeof top.text !== 'string') return false
    const segment = firstOf(top.segments)
    if (segment) return typeof segment.text === 'string' && typeof segment.start === 'number'
    return typeof firstOf(top.words)?.word === 'string' || (Array.isArray(top.segments) && 'task' in top)
  },
  open(source) {
    const document = checked(schema, source.json?.[0], source, openaiVerbose.title)
    const words = (document.words ?? []).map(({ word, start, end }) => ({ text: word, at: start, until: end }))
    if (!document.segments) {
      const { at, until } = pieceOfWords(words)
      return layOut([{ text: document.text, words, ...(at !== undefined && until !== undefined && { at, until }) }])
    }
    let next = 0
    const pieces = document.segments.map((segment): Piece => {
      const from = next
      // A word belongs to the segment in which its middle lies; words and segments are both in order.
      while (next < words.length && (words[next]!.at + words[next]!.until) / 2 <= segment.end) next++
      const piece = whisperPiece(segment)
      const { confidence } = piece
      if (from === next) return piece
      const rating = confidence === undefined ? {} : { confidence, shared: true }
      return { ...piece, words: words.slice(from, next).map((word) => ({ ...word, ...rating })) }
    })
    return layOut(pieces, 'tokenprob')
  },
}

const schema = z.object({
  text: z.string(),
  segments: maybe(z.array(whisperSegment)),
  words: maybe(z.array(z.object({ word: z.string(), start: seconds, end: seconds }))),
})
