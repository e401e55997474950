import * as z from '../../zod.ts'
import { keepFinals } from '../finals.ts'
import { checked, isObject, maybe, objectsOf, unitOrUnset } from '../json-shape.ts'
import { known } from '../known.ts'
import { layOut, type Piece } from '../lay-out.ts'
import { collapseGrowing } from '../repeats.ts'
import type { Format, Source } from '../source.ts'

/**
 * Saved results of the browsers' Web Speech API; pages save them in shapes of their own. Phones deliver a final several
 * times, each longer than the last: only the longest counts. Confidence: the browser's estimate of a whole result on
 * all its words alike; 0 means that there is none.
 */
export const webSpeech: Format = {
  id: 'web-speech',
  title: 'Web Speech API results',
  detect: (source) => resultsOf(source).some((value) => 'isFinal' in value && hypothesesOf(value).length > 0),
  open(source) {
    const pieces = resultsOf(source).map((value): Piece => {
      const [best, ...others] = hypothesesOf(value).map((one) => checked(hypothesis, one, source, webSpeech.title))
      const alternatives = others.map(({ transcript }) => transcript.trim())
      return {
        text: best?.transcript ?? '',
        ...known({ confidence: best?.confidence }),
        ...(value.isFinal === false && { partial: true }),
        ...(alternatives.length > 0 && { alternatives }),
      }
    })
    return layOut(collapseGrowing(keepFinals(pieces), true), 'vendor')
  },
}

const hypothesis = z.object({ transcript: z.string(), confidence: maybe(unitOrUnset) })

/** Results by themselves, or inside an event's `results`. */
const resultsOf = (source: Source): Record<string, unknown>[] =>
  objectsOf(source).flatMap((value) => (Array.isArray(value.results) ? value.results.filter(isObject) : [value]))

/** A list, numbered keys as in the native object, or the one hypothesis spread out. */
function hypothesesOf(value: Record<string, unknown>): unknown[] {
  if (Array.isArray(value.alternatives)) return value.alternatives
  const numbered = Object.keys(value).filter((key) => /^\d+$/.test(key))
  if (numbered.length > 0) return numbered.map((key) => value[key])
  return typeof value.transcript === 'string' ? [value] : []
}
