import * as z from '../../zod.ts'
import { type FlatWord, groupWords } from '../group-words.ts'
import { checked, firstObject, isObject, label, maybe } from '../json-shape.ts'
import { known } from '../known.ts'
import { layOut, type Piece } from '../lay-out.ts'
import { mergeChannels } from '../repeats.ts'
import type { Format } from '../source.ts'

/**
 * Amazon Transcribe, a finished job. Confidence: the vendor's estimate, which stands as a string; punctuation has none.
 * Lower-ranked words of an item are its alternatives, and so are those of a stretch where the job asked for them.
 */
export const awsBatch: Format = {
  id: 'aws-batch',
  title: 'Amazon Transcribe job JSON',
  detect: (source) => {
    const results = firstObject(source)?.results
    return (
      isObject(results) && Array.isArray(results.items) && ('transcripts' in results || 'channel_labels' in results)
    )
  },
  open(source) {
    const { results } = checked(schema, source.json?.[0], source, awsBatch.title)
    const speakers = new Map(
      (results.speaker_labels?.segments ?? []).flatMap(({ items, speaker_label }) =>
        items.map((item) => [item.start_time, item.speaker_label ?? speaker_label] as const),
      ),
    )
    const channels = results.channel_labels?.channels
    const pieces = channels
      ? channels.flatMap(({ channel_label, items }) => groupWords(flatten(items, speakers, channel_label)))
      : groupWords(flatten(results.items, speakers))
    return layOut(withAlternatives(channels ? mergeChannels(pieces) : pieces, results.segments ?? []), 'vendor')
  },
}

const number = z.coerce.number()
const item = z.object({
  type: z.string(),
  start_time: maybe(number),
  end_time: maybe(number),
  speaker_label: maybe(label),
  alternatives: z.array(z.object({ content: z.string(), confidence: maybe(number) })).check(z.minLength(1)),
})
const labelled = z.object({ start_time: maybe(number), speaker_label: maybe(label) })
const ranked = z.object({ start_time: number, alternatives: z.array(z.object({ transcript: z.string() })) })
const schema = z.object({
  results: z.object({
    items: z.array(item),
    speaker_labels: maybe(
      z.object({ segments: z.array(z.object({ speaker_label: maybe(label), items: z.array(labelled) })) }),
    ),
    channel_labels: maybe(z.object({ channels: z.array(z.object({ channel_label: label, items: z.array(item) })) })),
    segments: maybe(z.array(ranked)),
  }),
})

type Speakers = ReadonlyMap<number | null | undefined, string | null | undefined>

function flatten(items: readonly z.output<typeof item>[], speakers: Speakers, channel?: string): FlatWord[] {
  let speaker: string | null | undefined
  return items.map(({ type, start_time, end_time, speaker_label, alternatives: [best, ...others] }) => {
    const isWord = type === 'pronunciation'
    if (isWord) speaker = speaker_label ?? speakers.get(start_time)
    return {
      text: best!.content,
      glued: !isWord,
      ...known({ at: start_time, until: end_time, speaker, channel, confidence: isWord ? best!.confidence : null }),
      ...(others.length > 0 && { alternatives: others.map(({ content }) => content) }),
    }
  })
}

/** Whole-stretch hypotheses go to the piece in which their stretch starts, when it is the only one there. */
function withAlternatives(pieces: readonly Piece[], segments: readonly z.output<typeof ranked>[]): Piece[] {
  return pieces.map((piece) => {
    const inside = segments.filter(({ start_time: at }) => at >= (piece.at ?? 0) - 0.1 && at <= (piece.until ?? 0))
    const others = inside.length === 1 ? inside[0]!.alternatives.slice(1).map(({ transcript }) => transcript) : []
    return others.length > 0 ? { ...piece, alternatives: others } : piece
  })
}
