import * as z from '../../zod.ts'
import { plus } from '../clock.ts'
import { groupWords } from '../group-words.ts'
import { checked, firstObject, firstOf, isObject, maybe, seconds, unitOrUnset } from '../json-shape.ts'
import { known } from '../known.ts'
import { layOut } from '../lay-out.ts'
import type { Format, Source } from '../source.ts'

/** Segments of Apple's speech framework as apps export them. Confidence: as it is; 0 stands before a final result. */
export const appleSpeech: Format = {
  id: 'apple-speech',
  title: 'Apple speech framework segments',
  detect: (source) => typeof firstOf(segmentsOf(source))?.substring === 'string',
  open(source) {
    const segments = checked(schema, segmentsOf(source), source, appleSpeech.title)
    return layOut(
      groupWords(
        segments.map(({ substring, timestamp, duration, confidence, alternativeSubstrings: others }) => ({
          text: substring,
          ...known({
            at: timestamp,
            until: timestamp == null || duration == null ? null : plus(timestamp, duration),
            confidence,
          }),
          ...(others && others.length > 0 && { alternatives: others }),
        })),
      ),
      'vendor',
    )
  },
}

function segmentsOf(source: Source): unknown {
  const top = firstObject(source)
  const best = top?.bestTranscription
  return (isObject(best) ? best.segments : top?.segments) ?? source.json?.[0]
}

const schema = z.array(
  z.object({
    substring: z.string(),
    timestamp: maybe(seconds),
    duration: maybe(seconds),
    confidence: maybe(unitOrUnset),
    alternativeSubstrings: maybe(z.array(z.string())),
  }),
)
