import * as z from '../../zod.ts'
import { keepFinals } from '../finals.ts'
import { groupWords } from '../group-words.ts'
import { checked, firstObject, isObject, label, maybe, nested, objectsOf, unitOrUnset } from '../json-shape.ts'
import { known } from '../known.ts'
import { type HeardWord, layOut, type Piece } from '../lay-out.ts'
import { mergeChannels } from '../repeats.ts'
import type { Format } from '../source.ts'

/**
 * Google Cloud Speech, v1 and v2, whole or streamed. Confidence: the vendor's estimate as it is; 0 means that there is
 * none. With speakers, the last result repeats every word from the start: it then stands for all of them.
 */
export const google: Format = {
  id: 'google',
  title: 'Google Speech-to-Text JSON',
  detect: (source) => {
    const top = firstObject(source)
    return (
      typeof nested(top?.response ?? top, 'results', 'alternatives', 'transcript') === 'string' &&
      !('result_index' in top!)
    )
  },
  open(source) {
    const results = objectsOf(source).flatMap(
      (value) => checked(schema, camel(value.response ?? value), source, google.title).results,
    )
    const finals = results.filter((result) => result.alternatives.length > 0)
    const repeated = finals.at(-1)
    if (repeated && finals.length > 1 && repeatsAll(finals)) {
      return layOut(
        groupWords(wordsOf(repeated).map(({ tag, ...word }) => ({ ...word, ...known({ speaker: tag }) }))),
        'vendor',
      )
    }
    return layOut(mergeChannels(keepFinals(finals.flatMap(pieceOf))), 'vendor')
  },
}

/** `"1.200s"`, or seconds and nanoseconds apart in a dump of the protocol's own objects. */
const time = z.union([
  z.pipe(z.string(), z.transform(Number.parseFloat)),
  z.pipe(
    z.object({ seconds: z._default(z.coerce.number(), 0), nanos: z._default(z.number(), 0) }),
    z.transform(({ seconds, nanos }) => seconds + nanos / 1e9),
  ),
])
const word = z.object({
  word: z.string(),
  startTime: maybe(time),
  endTime: maybe(time),
  startOffset: maybe(time),
  endOffset: maybe(time),
  confidence: maybe(unitOrUnset),
  speakerTag: maybe(z.number()),
  speakerLabel: maybe(label),
})
const result = z.object({
  alternatives: z._default(
    z.array(
      z.object({ transcript: z._default(z.string(), ''), confidence: maybe(unitOrUnset), words: maybe(z.array(word)) }),
    ),
    [],
  ),
  channelTag: maybe(z.number()),
  isFinal: maybe(z.boolean()),
  stability: maybe(z.number()),
})
const schema = z.object({ results: z._default(z.array(result), []) })
type Result = z.output<typeof result>

function wordsOf({ alternatives }: Result): (HeardWord & { tag?: string })[] {
  return (alternatives[0]?.words ?? []).map((word) => ({
    text: word.word,
    at: word.startTime ?? word.startOffset ?? 0,
    ...known({
      until: word.endTime ?? word.endOffset,
      confidence: word.confidence,
      tag: word.speakerLabel ?? (word.speakerTag ? String(word.speakerTag) : null),
    }),
  }))
}

/** The last of several results has speakers and at least as many words as all others together. */
function repeatsAll(results: readonly Result[]): boolean {
  const counts = results.map((result) => wordsOf(result).length)
  const others = counts.slice(0, -1).reduce((sum, count) => sum + count, 0)
  return others > 0 && counts.at(-1)! >= others && wordsOf(results.at(-1)!).every((word) => word.tag !== undefined)
}

function pieceOf(result: Result): Piece[] {
  const [best, ...others] = result.alternatives
  if (!best) return []
  const words = wordsOf(result)
  const isPartial = result.isFinal === false || (result.isFinal == null && result.stability != null)
  const speakers = new Set(words.map((word) => word.tag))
  const piece: Piece = {
    text: best.transcript,
    ...known({
      at: words[0]?.at,
      until: words.at(-1)?.until,
      confidence: best.confidence,
      channel: result.channelTag ? String(result.channelTag) : null,
    }),
    ...(isPartial && { partial: true }),
    ...(others.length > 0 && { alternatives: others.map(({ transcript }) => transcript.trim()) }),
  }
  if (words.length === 0) return [piece]
  if (speakers.size > 1) return groupWords(words.map(({ tag, ...word }) => ({ ...word, ...known({ speaker: tag }) })))
  const speaker = [...speakers][0]
  return [{ ...piece, ...known({ speaker }), words: words.map(({ tag, ...word }) => word) }]
}

/** Client libraries write `start_time` where the service writes `startTime`. */
function camel(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(camel)
  if (!isObject(value)) return value
  return Object.fromEntries(
    Object.entries(value).map(([key, inner]) => [
      key.replace(/_([a-z])/g, (_, letter: string) => letter.toUpperCase()),
      camel(inner),
    ]),
  )
}
