import * as z from '../../zod.ts'
import { checked, firstObject, firstOf, label, seconds } from '../json-shape.ts'
import { layOut } from '../lay-out.ts'
import type { Format } from '../source.ts'

/** `diarized_json` of the OpenAI transcription API: segments with speakers, without any confidence. */
export const openaiDiarized: Format = {
  id: 'openai-diarized',
  title: 'OpenAI diarized_json',
  detect: (source) => firstOf(firstObject(source)?.segments)?.type === 'transcript.text.segment',
  open(source) {
    const { segments } = checked(schema, source.json?.[0], source, openaiDiarized.title)
    return layOut(segments.map(({ text, start, end, speaker }) => ({ text, at: start, until: end, speaker })))
  },
}

const schema = z.object({
  segments: z.array(z.object({ text: z.string(), start: seconds, end: seconds, speaker: label })),
})
