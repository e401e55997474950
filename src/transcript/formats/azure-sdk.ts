import * as z from '../../zod.ts'
import { plus } from '../clock.ts'
import { checked, label, maybe, objectsOf, ticks, unit } from '../json-shape.ts'
import { known } from '../known.ts'
import { layOut, type Piece } from '../lay-out.ts'
import type { Format } from '../source.ts'

/**
 * Azure's speech SDK and short-audio service, one result a phrase. Read is the lexical form where it is given.
 * Confidence: the vendor's estimate of the phrase, on all its words alike.
 */
export const azureSdk: Format = {
  id: 'azure-sdk',
  title: 'Azure speech SDK JSON',
  detect: (source) => objectsOf(source).some((value) => 'RecognitionStatus' in value),
  open(source) {
    const results = objectsOf(source).map((value) => checked(result, value, source, azureSdk.title))
    return layOut(results.filter(({ RecognitionStatus }) => RecognitionStatus === 'Success').map(pieceOf), 'vendor')
  },
}

const word = z.object({ Word: z.string(), Offset: ticks, Duration: ticks })
const result = z.object({
  RecognitionStatus: maybe(z.string()),
  DisplayText: maybe(z.string()),
  Offset: maybe(ticks),
  Duration: maybe(ticks),
  SpeakerId: maybe(label),
  NBest: maybe(
    z.array(
      z.object({
        Confidence: maybe(unit),
        Lexical: maybe(z.string()),
        Display: maybe(z.string()),
        Words: maybe(z.array(word)),
      }),
    ),
  ),
})

function pieceOf({ DisplayText, Offset: at, Duration, SpeakerId, NBest }: z.output<typeof result>): Piece {
  const [best, ...others] = NBest ?? []
  const confidence = best?.Confidence
  const rating = confidence == null ? {} : { confidence, shared: true }
  return {
    text: best?.Lexical || best?.Display || DisplayText || '',
    ...known({ at, until: at == null || Duration == null ? null : plus(at, Duration), speaker: SpeakerId, confidence }),
    ...(best?.Words && {
      words: best.Words.map(({ Word, Offset, Duration }) => ({
        text: Word,
        at: Offset,
        until: plus(Offset, Duration),
        ...rating,
      })),
    }),
    ...(others.length > 0 && { alternatives: others.map(({ Lexical, Display }) => Lexical || Display || '') }),
  }
}
