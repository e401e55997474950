import * as z from '../../zod.ts'
import { keepFinals } from '../finals.ts'
import { type FlatWord, groupWords } from '../group-words.ts'
import { checked, label, maybe, objectsOf, seconds, unit } from '../json-shape.ts'
import { known } from '../known.ts'
import { layOut, type Piece } from '../lay-out.ts'
import type { Format } from '../source.ts'

/**
 * IBM Watson. Words, confidences and speakers come in lists of their own, joined by position and by start time; the
 * per-slot `word_alternatives` are a word's alternatives. Confidence: as it is. `%HESITATION` is no word.
 */
export const watson: Format = {
  id: 'watson',
  title: 'IBM Watson JSON',
  detect: (source) => objectsOf(source).some((value) => 'result_index' in value && Array.isArray(value.results)),
  open(source) {
    const documents = objectsOf(source).map((value) => checked(schema, value, source, watson.title))
    const speakers = new Map(
      documents.flatMap(({ speaker_labels }) => (speaker_labels ?? []).map(({ from, speaker }) => [from, speaker])),
    )
    const settled = new Map<number, Piece[]>()
    for (const { result_index, results } of documents) {
      for (const [offset, result] of (results ?? []).entries())
        settled.set((result_index ?? 0) + offset, piecesOf(result, speakers))
    }
    return layOut(keepFinals([...settled.values()].flat()), 'vendor')
  },
}

const result = z.object({
  final: z._default(z.boolean(), true),
  alternatives: z.array(
    z.object({
      transcript: z.string(),
      confidence: maybe(unit),
      timestamps: maybe(z.array(z.tuple([z.string(), seconds, seconds]))),
      word_confidence: maybe(z.array(z.tuple([z.string(), unit]))),
    }),
  ),
  word_alternatives: maybe(
    z.array(z.object({ start_time: seconds, alternatives: z.array(z.object({ word: z.string(), confidence: unit })) })),
  ),
})
const schema = z.object({
  result_index: maybe(z.number()),
  results: maybe(z.array(result)),
  speaker_labels: maybe(z.array(z.object({ from: seconds, speaker: label }))),
})

function piecesOf(
  { final, alternatives, word_alternatives }: z.output<typeof result>,
  speakers: ReadonlyMap<number, string>,
): Piece[] {
  const [best, ...others] = alternatives
  if (!best) return []
  const slots = new Map(
    (word_alternatives ?? []).map((slot) => [slot.start_time, slot.alternatives.map(({ word }) => word)]),
  )
  const words = (best.timestamps ?? []).flatMap(([text, at, until], index): FlatWord[] => {
    if (text === '%HESITATION') return []
    const alternatives = slots.get(at)?.filter((word) => word !== text) ?? []
    const extra = known({ confidence: best.word_confidence?.[index]?.[1], speaker: speakers.get(at) })
    return [{ text, at, until, ...extra, ...(alternatives.length > 0 && { alternatives }) }]
  })
  const pieces: Piece[] =
    words.length > 0
      ? groupWords(words)
      : [{ text: best.transcript.replaceAll('%HESITATION', ''), ...known({ confidence: best.confidence }) }]
  const ranked = others.map(({ transcript }) => transcript.trim())
  return pieces.map((piece) => ({
    ...piece,
    ...(!final && { partial: true }),
    ...(pieces.length === 1 && ranked.length > 0 && { alternatives: ranked }),
  }))
}
