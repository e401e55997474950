import * as z from '../../zod.ts'
import { checked, label, maybe, objectsOf, seconds } from '../json-shape.ts'
import { known } from '../known.ts'
import { layOut, type Piece } from '../lay-out.ts'
import type { Format } from '../source.ts'

/** The event stream of the OpenAI transcription API. Only what is done counts; the deltas before it are for the screen. */
export const openaiStream: Format = {
  id: 'openai-stream',
  title: 'OpenAI transcription stream',
  detect: (source) =>
    objectsOf(source).some(({ type }) => /^transcript\.text\.(?:delta|done|segment)$/.test(String(type))),
  open(source) {
    const events = objectsOf(source).map((value) => checked(event, value, source, openaiStream.title))
    const pieces: Piece[] = []
    let delta = ''
    let segments: Piece[] = []
    for (const { type, text, start, end, speaker, delta: more } of events) {
      if (type === 'transcript.text.delta') delta += more ?? ''
      if (type === 'transcript.text.segment')
        segments.push({ text: text ?? '', ...known({ at: start, until: end, speaker }) })
      if (type !== 'transcript.text.done') continue
      pieces.push(...(segments.length > 0 ? segments : [{ text: text ?? delta }]))
      delta = ''
      segments = []
    }
    const rest = segments.length > 0 ? segments : [{ text: delta }]
    return layOut([...pieces, ...rest.map((piece) => ({ ...piece, partial: true }))])
  },
}

const event = z.object({
  type: z.string(),
  text: maybe(z.string()),
  delta: maybe(z.string()),
  start: maybe(seconds),
  end: maybe(seconds),
  speaker: maybe(label),
})
