import * as z from '../../zod.ts'
import { plus } from '../clock.ts'
import { checked, firstObject, label, maybe, milliseconds, unit } from '../json-shape.ts'
import { known } from '../known.ts'
import { layOut, type Piece } from '../lay-out.ts'
import { mergeChannels } from '../repeats.ts'
import type { Format } from '../source.ts'

/**
 * Azure fast transcription, whose time fields have had three sets of names. Confidence: the vendor's estimate of a
 * phrase, on all its words alike.
 */
export const azureFast: Format = {
  id: 'azure-fast',
  title: 'Azure fast transcription JSON',
  detect: (source) => {
    const top = firstObject(source)
    return Array.isArray(top?.combinedPhrases) && Array.isArray(top.phrases)
  },
  open(source) {
    const { phrases } = checked(schema, source.json?.[0], source, azureFast.title)
    return layOut(mergeChannels(phrases.map(pieceOf)), 'vendor')
  },
}

const ms = maybe(milliseconds)
const times = z.object({
  offset: ms,
  duration: ms,
  offsetMilliseconds: ms,
  durationMilliseconds: ms,
  offsetInMs: ms,
  durationInMs: ms,
})
const phrase = z.extend(times, {
  text: z.string(),
  channel: maybe(label),
  speaker: maybe(label),
  confidence: maybe(unit),
  words: maybe(z.array(z.extend(times, { text: z.string() }))),
})
const schema = z.object({ phrases: z.array(phrase) })

function timesOf(value: z.output<typeof times>) {
  const at = value.offsetMilliseconds ?? value.offsetInMs ?? value.offset
  const duration = value.durationMilliseconds ?? value.durationInMs ?? value.duration
  return known({ at, until: at == null || duration == null ? null : plus(at, duration) })
}

function pieceOf(value: z.output<typeof phrase>): Piece {
  const { text, words, channel, speaker, confidence } = value
  const rating = confidence == null ? {} : { confidence, shared: true }
  return {
    text,
    ...timesOf(value),
    ...known({ channel, speaker, confidence }),
    ...(words && { words: words.map((word) => ({ text: word.text, ...timesOf(word), ...rating })) }),
  }
}
