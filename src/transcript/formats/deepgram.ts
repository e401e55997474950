import * as z from '../../zod.ts'
import { groupWords } from '../group-words.ts'
import { checked, firstObject, isObject, label, maybe, nested, seconds, unit } from '../json-shape.ts'
import { known } from '../known.ts'
import { layOut, type Piece } from '../lay-out.ts'
import { mergeChannels } from '../repeats.ts'
import type { Format } from '../source.ts'

/** Deepgram, a finished recording. Confidence: the vendor's estimate of a word as it is. */
export const deepgram: Format = {
  id: 'deepgram',
  title: 'Deepgram JSON',
  detect: (source) => {
    const results = firstObject(source)?.results
    return isObject(results) && Array.isArray(nested(results, 'channels', 'alternatives'))
  },
  open(source) {
    const { results, metadata } = checked(schema, source.json?.[0], source, deepgram.title)
    const { channels } = results
    const pieces = channels.flatMap((channel, index) =>
      piecesOf(channel, channels.length > 1 ? String(index) : undefined),
    )
    const laid = layOut(channels.length > 1 ? mergeChannels(pieces) : pieces, 'vendor')
    // When it was handed in to be written down: with a phone, on the day.
    return { ...laid, ...known({ recordedAt: metadata?.created }) }
  },
}

export const deepgramWord = z.object({
  word: z.string(),
  punctuated_word: maybe(z.string()),
  start: seconds,
  end: seconds,
  confidence: maybe(unit),
  speaker: maybe(label),
})
export const deepgramChannel = z.object({
  alternatives: z.array(
    z.object({
      transcript: z._default(z.string(), ''),
      confidence: maybe(unit),
      words: z._default(z.array(deepgramWord), []),
    }),
  ),
})
const schema = z.object({
  metadata: maybe(z.object({ created: maybe(z.string()) })),
  results: z.object({ channels: z.array(deepgramChannel) }),
})

export function piecesOf(
  { alternatives: [best, ...others] }: z.output<typeof deepgramChannel>,
  channel?: string,
): Piece[] {
  if (!best) return []
  const words = best.words.map(({ word, punctuated_word, start, end, confidence, speaker }) => ({
    text: punctuated_word ?? word,
    at: start,
    until: end,
    ...known({ confidence, speaker, channel }),
  }))
  const pieces: Piece[] =
    words.length > 0
      ? groupWords(words)
      : [{ text: best.transcript, ...known({ channel, confidence: best.confidence }) }]
  const [only] = pieces
  const alternatives = others.map(({ transcript }) => transcript)
  return pieces.length === 1 && only && alternatives.length > 0 ? [{ ...only, alternatives }] : pieces
}
