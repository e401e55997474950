import * as z from '../../zod.ts'
import { fillTimes, groupWords } from '../group-words.ts'
import { checked, firstObject, firstOf, label, maybe, seconds, unit } from '../json-shape.ts'
import { known } from '../known.ts'
import { layOut, type Piece } from '../lay-out.ts'
import type { Format } from '../source.ts'

/**
 * WhisperX. Confidence: its `score` says how well the sound fits the word, not whether the word is right, so it is drawn
 * halfway to sure: `0.5 + score / 2`. Digits ("4", "75%") come without times and score: they get a time from their
 * neighbours and no confidence, and are never left out.
 */
export const whisperx: Format = {
  id: 'whisperx',
  title: 'WhisperX JSON',
  detect(source) {
    const top = firstObject(source)
    return Array.isArray(top?.word_segments) || 'score' in (firstOf(firstOf(top?.segments)?.words) ?? {})
  },
  open(source) {
    const { segments, word_segments } = checked(schema, source.json?.[0], source, whisperx.title)
    if (segments.length === 0) return layOut(groupWords(heard(word_segments ?? [])), 'alignscore')
    return layOut(segments.map(pieceOf), 'alignscore')
  },
}

const word = z.object({
  word: z.string(),
  start: maybe(seconds),
  end: maybe(seconds),
  score: maybe(unit),
  speaker: maybe(label),
})
const segment = z.object({
  text: z.string(),
  start: seconds,
  end: seconds,
  speaker: maybe(label),
  words: z._default(z.array(word), []),
})
const schema = z.object({ segments: z._default(z.array(segment), []), word_segments: maybe(z.array(word)) })

const heard = (words: readonly z.output<typeof word>[]) =>
  fillTimes(
    words.map(({ word, start, end, score, speaker }) => ({
      text: word,
      ...known({ at: start, until: end, confidence: score == null ? undefined : 0.5 + score / 2, speaker }),
    })),
  )

function pieceOf({ text, start, end, speaker, words }: z.output<typeof segment>): Piece {
  const plain = heard(words).map(({ speaker: _, ...word }) => word)
  return { text, at: start, until: end, ...known({ speaker }), ...(words.length > 0 && { words: plain }) }
}
