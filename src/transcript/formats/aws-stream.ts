import * as z from '../../zod.ts'
import { keepFinals } from '../finals.ts'
import { pieceOfWords } from '../group-words.ts'
import { checked, firstOf, label, maybe, nested, objectsOf, seconds, unit } from '../json-shape.ts'
import { known } from '../known.ts'
import { layOut, type Piece } from '../lay-out.ts'
import { mergeChannels } from '../repeats.ts'
import type { Format, Source } from '../source.ts'

/** Amazon Transcribe, streamed: a result is told again and again under one id until it is final. Confidence: as it is. */
export const awsStream: Format = {
  id: 'aws-stream',
  title: 'Amazon Transcribe stream',
  detect: (source) => resultLists(source).some((list) => 'IsPartial' in (firstOf(list) ?? {})),
  open(source) {
    const results = resultLists(source).flatMap((list) => checked(schema, list ?? [], source, awsStream.title))
    const settled = new Map(results.map((result) => [`${result.ResultId} ${result.ChannelId ?? ''}`, result]))
    return layOut(mergeChannels(keepFinals([...settled.values()].map(pieceOf))), 'vendor')
  },
}

const resultLists = (source: Source): unknown[] =>
  objectsOf(source).map(
    (value) =>
      nested(value, 'TranscriptEvent', 'Transcript', 'Results') ??
      nested(value, 'Transcript', 'Results') ??
      value.Results,
  )

const item = z.object({
  Content: z.string(),
  StartTime: maybe(seconds),
  EndTime: maybe(seconds),
  Type: z.string(),
  Confidence: maybe(unit),
  Speaker: maybe(label),
})
const result = z.object({
  ResultId: z.string(),
  StartTime: maybe(seconds),
  EndTime: maybe(seconds),
  IsPartial: z.boolean(),
  ChannelId: maybe(z.string()),
  Alternatives: z.array(z.object({ Transcript: z._default(z.string(), ''), Items: maybe(z.array(item)) })),
})
const schema = z.array(result)

function pieceOf({
  StartTime,
  EndTime,
  IsPartial,
  ChannelId,
  Alternatives: [best, ...others],
}: z.output<typeof result>): Piece {
  const words = (best?.Items ?? []).map((item) => {
    const isWord = item.Type === 'pronunciation'
    const confidence = isWord ? item.Confidence : null
    return {
      text: item.Content,
      glued: !isWord,
      ...known({ at: item.StartTime, until: item.EndTime, confidence, speaker: item.Speaker }),
    }
  })
  return {
    ...(words.length > 0 ? pieceOfWords(words) : {}),
    text: best?.Transcript ?? '',
    ...known({ at: StartTime, until: EndTime, channel: ChannelId }),
    ...(IsPartial && { partial: true }),
    ...(others.length > 0 && { alternatives: others.map(({ Transcript }) => Transcript) }),
  }
}
