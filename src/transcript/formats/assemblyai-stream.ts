import * as z from '../../zod.ts'
import { keepFinals } from '../finals.ts'
import { pieceOfWords } from '../group-words.ts'
import { checked, maybe, objectsOf } from '../json-shape.ts'
import { layOut, type Piece } from '../lay-out.ts'
import type { Format } from '../source.ts'
import { assemblyWord, assemblyWordOf } from './assemblyai.ts'

/**
 * AssemblyAI, streamed: turns (told again once formatted, under one number) or, in the older stream, partial and final
 * transcripts. Confidence: as it is.
 */
export const assemblyaiStream: Format = {
  id: 'assemblyai-stream',
  title: 'AssemblyAI stream',
  detect: (source) =>
    objectsOf(source).some(
      (value) => value.type === 'Turn' || /^(?:Final|Partial)Transcript$/.test(String(value.message_type)),
    ),
  open(source) {
    const events = objectsOf(source)
      .filter((value) => value.type === 'Turn' || /Transcript$/.test(String(value.message_type)))
      .map((value) => checked(event, value, source, assemblyaiStream.title))
    const turns = new Map(events.map((event, index) => [event.turn_order ?? `text ${index}`, event]))
    return layOut(keepFinals([...turns.values()].map(pieceOf)), 'vendor')
  },
}

const event = z.object({
  message_type: maybe(z.string()),
  turn_order: maybe(z.number()),
  end_of_turn: maybe(z.boolean()),
  transcript: maybe(z.string()),
  text: maybe(z.string()),
  words: z._default(z.array(assemblyWord), []),
})

function pieceOf({ message_type, end_of_turn, transcript, text, words }: z.output<typeof event>): Piece {
  const isPartial = message_type == null ? end_of_turn === false : message_type === 'PartialTranscript'
  return {
    ...(words.length > 0 ? pieceOfWords(words.map(assemblyWordOf)) : {}),
    text: transcript ?? text ?? '',
    ...(isPartial && { partial: true }),
  }
}
