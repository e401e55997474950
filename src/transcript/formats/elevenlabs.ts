import * as z from '../../zod.ts'
import { groupWords } from '../group-words.ts'
import { checked, firstObject, firstOf, label, logarithm, maybe, seconds } from '../json-shape.ts'
import { known } from '../known.ts'
import { layOut } from '../lay-out.ts'
import type { Format } from '../source.ts'

/** ElevenLabs. Confidence: `exp(logprob)` of a word. Its sound events ("(wind)") are not speech and are left out. */
export const elevenlabs: Format = {
  id: 'elevenlabs',
  title: 'ElevenLabs JSON',
  detect: (source) => /^(?:word|spacing|audio_event)$/.test(String(firstOf(firstObject(source)?.words)?.type)),
  open(source) {
    const { words } = checked(schema, source.json?.[0], source, elevenlabs.title)
    const spoken = words.filter(({ type }) => type === 'word')
    return layOut(
      groupWords(
        spoken.map(({ text, start, end, speaker_id, logprob }) => ({
          text,
          ...known({ at: start, until: end, speaker: speaker_id, confidence: logprob }),
        })),
      ),
      'tokenprob',
    )
  },
}

const schema = z.object({
  words: z.array(
    z.object({
      text: z.string(),
      type: z.string(),
      start: maybe(seconds),
      end: maybe(seconds),
      speaker_id: maybe(label),
      logprob: maybe(logarithm),
    }),
  ),
})
