import * as z from '../../zod.ts'
import { keepFinals } from '../finals.ts'
import { checked, maybe, objectsOf, seconds, unit } from '../json-shape.ts'
import { known } from '../known.ts'
import { layOut, type Piece } from '../lay-out.ts'
import type { Format } from '../source.ts'

/**
 * Vosk: objects one after another, one an utterance. Confidence: a word's `conf` as it is (a posterior). The number on
 * n-best alternatives (`confidence`, tens to hundreds) is no probability: their order is kept and the number dropped.
 */
export const vosk: Format = {
  id: 'vosk',
  title: 'Vosk JSON',
  detect: (source) =>
    objectsOf(source).some(
      (value) =>
        typeof value.partial === 'string' ||
        (typeof value.text === 'string' && Array.isArray(value.result)) ||
        (Array.isArray(value.alternatives) && Object.keys(value).length === 1 && hasTexts(value.alternatives)),
    ),
  open(source) {
    const utterances = objectsOf(source).map((value) => checked(utterance, value, source, vosk.title))
    return layOut(keepFinals(utterances.map(pieceOf)), 'posterior')
  },
}

const word = z.object({ word: z.string(), start: seconds, end: seconds, conf: maybe(unit) })
const hypothesis = z.object({ text: z.string(), result: maybe(z.array(word)) })
const utterance = z.object({
  text: maybe(z.string()),
  result: maybe(z.array(word)),
  partial: maybe(z.string()),
  alternatives: maybe(z.array(hypothesis)),
})

const hasTexts = (alternatives: readonly unknown[]): boolean =>
  alternatives.every((value) => hypothesis.safeParse(value).success)

function pieceOf({ text, result, partial, alternatives }: z.output<typeof utterance>): Piece {
  if (partial != null) return { text: partial, partial: true }
  const [best, ...others] = alternatives ?? [{ text: text ?? '', result }]
  const words = best?.result ?? []
  return {
    text: best?.text ?? '',
    ...known({ at: words[0]?.start, until: words.at(-1)?.end }),
    ...(words.length > 0 && {
      words: words.map(({ word, start, end, conf }) => ({
        text: word,
        at: start,
        until: end,
        ...known({ confidence: conf }),
      })),
    }),
    ...(others.length > 0 && { alternatives: others.map(({ text }) => text) }),
    // Wind and silence come out as a lone "the" or "huh".
    ...(/^(?:the|huh|a|uh|hi|einen)$/.test(best?.text ?? '') && { suspect: 'noise' }),
  }
}
