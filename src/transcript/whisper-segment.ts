import * as z from '../zod.ts'
import { logarithm, maybe, seconds, unit } from './json-shape.ts'
import { known } from './known.ts'
import type { HeardWord, Piece } from './lay-out.ts'

/**
 * A segment as Whisper and its many faces write it. Confidence of the whole: `exp(avg_logprob)`, the geometric mean of
 * its token probabilities; halved when one of the reference decoder's own gates speaks against it (it had to raise its
 * temperature, a log-probability under -1, a compression ratio over 2.4, or more likely silence than not at 0.6).
 */
export const whisperSegment = z.object({
  text: z.string(),
  start: seconds,
  end: seconds,
  avg_logprob: maybe(z.number()),
  no_speech_prob: maybe(unit),
  compression_ratio: maybe(z.number()),
  temperature: maybe(z.number()),
})

export const whisperWord = z.object({
  word: z.string(),
  start: maybe(seconds),
  end: maybe(seconds),
  probability: maybe(unit),
})

export function whisperPiece(segment: z.output<typeof whisperSegment>): Piece {
  const { text, start, end, avg_logprob: mean, no_speech_prob: noSpeech } = segment
  const isGated =
    (segment.temperature ?? 0) > 0 ||
    (mean ?? 0) < -1 ||
    (segment.compression_ratio ?? 0) > 2.4 ||
    (noSpeech ?? 0) > 0.6
  const confidence = mean == null ? undefined : logarithm.parse(mean) * (isGated ? 0.5 : 1)
  return { text, at: start, ...known({ until: end >= start ? end : undefined, confidence, noSpeech }) }
}

export const whisperWordOf = ({ word, start, end, probability }: z.output<typeof whisperWord>): HeardWord => ({
  text: word,
  ...known({ at: start, until: end, confidence: probability }),
})
