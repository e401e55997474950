import * as z from '../../zod.ts'
import { checked, firstObject, firstOf, isObject, maybe, objectsOf } from '../json-shape.ts'
import { layOut } from '../lay-out.ts'
import type { Format, Source } from '../source.ts'
import { whisperPiece, whisperSegment, whisperWord, whisperWordOf } from '../whisper-segment.ts'

/**
 * Whisper run at home (openai-whisper, faster-whisper, servers that copy them): segments with words inside, in one
 * document, or one segment a line, as objects or as bare tuples. Confidence: a word's `probability` as it is (the mean
 * over its tokens); without words, that of the segment on all its words alike.
 */
export const whisper: Format = {
  id: 'whisper',
  title: 'Whisper JSON with words in the segments (openai-whisper, faster-whisper)',
  detect(source) {
    const top = firstObject(source)
    const segment = firstOf(top?.segments)
    if (segment && 'words' in segment && typeof segment.text === 'string') return true
    return (
      source.json?.some(isTuple) === true ||
      (top !== undefined && 'avg_logprob' in top && 'text' in top) ||
      isList(source)
    )
  },
  open(source) {
    const segments = segmentsOf(source).map((value) => checked(schema, value, source, whisper.title))
    return layOut(
      segments.map((segment) => ({
        ...whisperPiece(segment),
        ...(segment.words && segment.words.length > 0 && { words: segment.words.map(whisperWordOf) }),
      })),
      'tokenprob',
    )
  },
}

const schema = z.extend(whisperSegment, { words: maybe(z.array(whisperWord)) })

const isList = ({ json }: Source): boolean => 'avg_logprob' in (firstOf(json?.[0]) ?? {})

/** `[id, seek, start, end, text, …]`: a named tuple that was dumped without its names. */
const isTuple = (value: unknown): value is unknown[] =>
  Array.isArray(value) && value.length >= 5 && typeof value[2] === 'number' && typeof value[4] === 'string'

function segmentsOf(source: Source): unknown[] {
  const top = firstObject(source)
  if (Array.isArray(top?.segments)) return top.segments
  const values = source.json ?? []
  const flat = values.length === 1 && Array.isArray(values[0]) && !isTuple(values[0]) ? values[0] : values
  const tuples = flat.filter(isTuple)
  if (tuples.length === 0) return objectsOf(source).filter((value) => isObject(value) && 'text' in value)
  return tuples.map(([, , start, end, text]) => ({ start, end, text }))
}
