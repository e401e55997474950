import * as z from '../../zod.ts'
import { checked, firstObject, firstOf, maybe, seconds, unit } from '../json-shape.ts'
import { known } from '../known.ts'
import { layOut } from '../lay-out.ts'
import type { Format } from '../source.ts'

/**
 * whisper-timestamped. Confidence: as it is (a probability); a segment whose words all have 0 was not rated. The word
 * `[*]` marks a stumble and is no word.
 */
export const whisperTimestamped: Format = {
  id: 'whisper-timestamped',
  title: 'whisper-timestamped JSON',
  detect: (source) => {
    const segment = firstOf(firstObject(source)?.segments)
    return (
      typeof segment?.text === 'string' && ('confidence' in segment || 'confidence' in (firstOf(segment.words) ?? {}))
    )
  },
  open(source) {
    const { segments } = checked(schema, source.json?.[0], source, whisperTimestamped.title)
    return layOut(
      segments.map(({ text, start, end, confidence, words }) => {
        const isRated = words.some((word) => (word.confidence ?? 0) > 0)
        return {
          text: text.replaceAll('[*]', ' ').replace(/ {2,}/g, ' '),
          at: start,
          until: end,
          ...known({ confidence: confidence || undefined }),
          words: words
            .filter((word) => word.text !== '[*]')
            .map((word) => ({
              text: word.text,
              at: word.start,
              until: word.end,
              ...known({ confidence: isRated ? word.confidence : undefined }),
            })),
        }
      }),
      'tokenprob',
    )
  },
}

const word = z.object({ text: z.string(), start: seconds, end: seconds, confidence: maybe(unit) })
const schema = z.object({
  segments: z.array(
    z.object({
      text: z.string(),
      start: seconds,
      end: seconds,
      confidence: maybe(unit),
      words: z._default(z.array(word), []),
    }),
  ),
})
