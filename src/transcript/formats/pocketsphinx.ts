import * as z from '../../zod.ts'
import { plus } from '../clock.ts'
import { isFiller, withoutVariant } from '../fillers.ts'
import { checked, objectsOf, seconds, unit } from '../json-shape.ts'
import { layOut } from '../lay-out.ts'
import type { Format } from '../source.ts'

/**
 * pocketsphinx 5: one object an utterance. Confidence: a word's `p` as it is (a posterior), except in grammar mode,
 * which gives 1 to every word: that says nothing and is left out.
 */
export const pocketsphinx: Format = {
  id: 'pocketsphinx',
  title: 'pocketsphinx JSON',
  detect: (source) => objectsOf(source).some((value) => 'b' in value && 'd' in value && 't' in value && 'w' in value),
  open(source) {
    const utterances = objectsOf(source).map((value) => checked(utterance, value, source, pocketsphinx.title))
    const spoken = utterances.flatMap(({ w }) => w).filter(({ t }) => !isFiller(t))
    const isRated = spoken.length < 4 || spoken.some(({ p }) => p < 0.9999)
    return layOut(
      utterances.map(({ b, d, w }) => {
        const words = w
          .filter(({ t }) => !isFiller(t))
          .map(({ b, d, p, t }) => ({
            text: withoutVariant(t),
            at: b,
            until: plus(b, d),
            ...(isRated && { confidence: p }),
          }))
        return { text: words.map(({ text }) => text).join(' '), at: b, until: plus(b, d), words }
      }),
      'posterior',
    )
  },
}

const word = z.object({ b: seconds, d: seconds, p: unit, t: z.string() })
const utterance = z.extend(word, { w: z._default(z.array(word), []) })
