import * as z from '../../zod.ts'
import { groupWords } from '../group-words.ts'
import { checked, firstObject, firstOf, label, maybe, milliseconds, unit } from '../json-shape.ts'
import { known } from '../known.ts'
import { layOut } from '../lay-out.ts'
import type { Format } from '../source.ts'

/** AssemblyAI, a finished recording; its words count milliseconds. Confidence: the vendor's estimate as it is. */
export const assemblyai: Format = {
  id: 'assemblyai',
  title: 'AssemblyAI JSON',
  detect: (source) => {
    const top = firstObject(source)
    if (!top || !('status' in top || 'audio_url' in top || 'acoustic_model' in top)) return false
    return 'audio_duration' in top || typeof firstOf(top.words)?.text === 'string'
  },
  open(source) {
    const { text, words } = checked(schema, source.json?.[0], source, assemblyai.title)
    if (!words) return layOut([{ text: text ?? '' }])
    return layOut(groupWords(words.map(assemblyWordOf)), 'vendor')
  },
}

export const assemblyWord = z.object({
  text: z.string(),
  start: milliseconds,
  end: milliseconds,
  confidence: maybe(unit),
  speaker: maybe(label),
  channel: maybe(label),
})
const schema = z.object({ text: maybe(z.string()), words: maybe(z.array(assemblyWord)) })

export const assemblyWordOf = ({ text, start, end, confidence, speaker, channel }: z.output<typeof assemblyWord>) => ({
  text,
  at: start,
  until: end,
  ...known({ confidence, speaker, channel }),
})
