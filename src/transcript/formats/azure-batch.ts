import * as z from '../../zod.ts'
import { plus } from '../clock.ts'
import { checked, firstObject, label, maybe, ticks, unit } from '../json-shape.ts'
import { known } from '../known.ts'
import { layOut, type Piece } from '../lay-out.ts'
import { mergeChannels } from '../repeats.ts'
import type { Format } from '../source.ts'

/**
 * Azure batch transcription. Read is the lexical form, the words as they were recognised, before numbers were formatted
 * and oaths masked; the word list belongs to it. Confidence: the vendor's estimate as it is.
 */
export const azureBatch: Format = {
  id: 'azure-batch',
  title: 'Azure batch transcription JSON',
  detect: (source) => Array.isArray(firstObject(source)?.recognizedPhrases),
  open(source) {
    const { recognizedPhrases, timestamp } = checked(schema, source.json?.[0], source, azureBatch.title)
    // When it was written down: with a phone, on the day.
    return { ...layOut(mergeChannels(recognizedPhrases.map(pieceOf)), 'vendor'), ...known({ recordedAt: timestamp }) }
  },
}

const word = z.object({
  word: z.string(),
  offsetInTicks: maybe(ticks),
  durationInTicks: maybe(ticks),
  confidence: maybe(unit),
})
const best = z.object({
  confidence: maybe(unit),
  lexical: maybe(z.string()),
  display: maybe(z.string()),
  words: maybe(z.array(word)),
})
const phrase = z.object({
  speaker: maybe(label),
  channel: maybe(label),
  offsetInTicks: maybe(ticks),
  durationInTicks: maybe(ticks),
  nBest: z._default(z.array(best), []),
})
const schema = z.object({ timestamp: maybe(z.string()), recognizedPhrases: z.array(phrase) })

const end = (offset?: number | null, duration?: number | null) =>
  offset == null || duration == null ? undefined : plus(offset, duration)

function pieceOf({
  nBest: [first, ...others],
  offsetInTicks: at,
  durationInTicks,
  channel,
  speaker,
}: z.output<typeof phrase>): Piece {
  return {
    text: first?.lexical || first?.display || '',
    ...known({ at, until: end(at, durationInTicks), channel, speaker, confidence: first?.confidence }),
    ...(first?.words && {
      words: first.words.map((word) => ({
        text: word.word,
        ...known({
          at: word.offsetInTicks,
          until: end(word.offsetInTicks, word.durationInTicks),
          confidence: word.confidence,
        }),
      })),
    }),
    ...(others.length > 0 && { alternatives: others.map(({ lexical, display }) => lexical || display || '') }),
  }
}
