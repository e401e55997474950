import * as z from '../../zod.ts'
import { type FlatWord, groupWords } from '../group-words.ts'
import { checked, firstObject, firstOf, maybe, seconds } from '../json-shape.ts'
import { known } from '../known.ts'
import { layOut } from '../lay-out.ts'
import type { Format } from '../source.ts'

/** The Hugging Face speech pipeline: its chunks are words or sentences, and rated in neither case. */
export const huggingFace: Format = {
  id: 'hugging-face',
  title: 'Hugging Face speech pipeline JSON',
  detect: (source) => Array.isArray(firstOf(firstObject(source)?.chunks)?.timestamp),
  open(source) {
    const { chunks } = checked(schema, source.json?.[0], source, huggingFace.title)
    const words = chunks.map(
      ({ text, timestamp: [at, until], speaker }): FlatWord => ({ text, ...known({ at, until, speaker }) }),
    )
    const areWords = words.filter(({ text }) => !/\S\s+\S/.test(text)).length > words.length / 2
    return layOut(areWords ? groupWords(words) : words)
  },
}

const time = maybe(seconds)
const schema = z.object({
  chunks: z.array(z.object({ text: z.string(), timestamp: z.tuple([time, time]), speaker: maybe(z.string()) })),
})
