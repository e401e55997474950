import * as z from '../../zod.ts'
import { keepFinals } from '../finals.ts'
import { type FlatWord, groupWords } from '../group-words.ts'
import { checked, firstOf, label, maybe, objectsOf, seconds, unit } from '../json-shape.ts'
import { known } from '../known.ts'
import { layOut } from '../lay-out.ts'
import type { Format } from '../source.ts'

/**
 * Speechmatics, whole (json-v2) or in real time. Of a formatted number the spoken form is read, not the written one.
 * Confidence: the vendor's estimate as it is; punctuation, always 1, has none.
 */
export const speechmatics: Format = {
  id: 'speechmatics',
  title: 'Speechmatics JSON',
  detect: (source) =>
    objectsOf(source).some((value) => {
      const result = firstOf(value.results)
      return (
        /^Add(?:Partial)?Transcript$/.test(String(value.message)) ||
        ('content' in (firstOf(result?.alternatives) ?? {}) && 'type' in result!)
      )
    }),
  open(source) {
    const documents = objectsOf(source)
      .filter((value) => Array.isArray(value.results))
      .map((value) => checked(schema, value, source, speechmatics.title))
    const pieces = documents.map(({ message, results }) => ({
      isPartial: message === 'AddPartialTranscript',
      words: results.flatMap(wordsOf),
    }))
    const last = pieces.at(-1)
    const settled = groupWords(pieces.flatMap(({ isPartial, words }) => (isPartial ? [] : words)))
    const open = last?.isPartial ? groupWords(last.words).map((piece) => ({ ...piece, partial: true })) : []
    // When it was handed in to be written down: with a phone, on the day.
    const day = documents.map(({ metadata }) => metadata?.created_at).find(Boolean)
    return { ...layOut(keepFinals([...settled, ...open]), 'vendor'), ...known({ recordedAt: day }) }
  },
}

const alternative = z.object({ content: z.string(), confidence: maybe(unit), speaker: maybe(label) })
const token = z.object({
  type: z.string(),
  start_time: seconds,
  end_time: seconds,
  channel: maybe(label),
  alternatives: z.array(alternative),
})
const result = z.extend(token, { spoken_form: maybe(z.array(token)) })
const schema = z.object({
  message: maybe(z.string()),
  metadata: maybe(z.object({ created_at: maybe(z.string()) })),
  results: z.array(result),
})

function wordsOf({ spoken_form, ...whole }: z.output<typeof result>): FlatWord[] {
  return (spoken_form && spoken_form.length > 0 ? spoken_form : [whole]).flatMap((token): FlatWord[] => {
    const [best, ...others] = token.alternatives
    if (!best) return []
    const isWord = token.type !== 'punctuation'
    const speaker = best.speaker === 'UU' ? null : best.speaker
    return [
      {
        text: best.content,
        glued: !isWord,
        at: token.start_time,
        until: token.end_time,
        ...known({ confidence: isWord ? best.confidence : null, speaker, channel: token.channel ?? whole.channel }),
        ...(others.length > 0 && { alternatives: others.map(({ content }) => content) }),
      },
    ]
  })
}
