import * as z from '../../zod.ts'
import { type FlatWord, groupWords } from '../group-words.ts'
import { checked, firstObject, seconds } from '../json-shape.ts'
import { layOut } from '../lay-out.ts'
import type { Format } from '../source.ts'

/** The transcript inside an Apple voice memo: pieces of text, each followed by its time range. No confidence. */
export const appleMemo: Format = {
  id: 'apple-memo',
  title: 'Apple voice memo transcript',
  detect: (source) => Array.isArray(firstObject(source)?.attributedString),
  open(source) {
    const { attributedString } = checked(schema, source.json?.[0], source, appleMemo.title)
    const words: FlatWord[] = []
    for (const part of attributedString) {
      // A piece that opens with a space is a new word; one that does not goes on with the last.
      if (typeof part === 'string') words.push({ text: part, glued: !/^\s/.test(part) })
      else {
        const word = words.at(-1)
        if (word && part.timeRange)
          words[words.length - 1] = { ...word, at: part.timeRange[0], until: part.timeRange[1] }
      }
    }
    return layOut(groupWords(words.filter(({ text }) => text.trim() !== '')))
  },
}

const schema = z.object({
  attributedString: z.array(z.union([z.string(), z.object({ timeRange: z.optional(z.tuple([seconds, seconds])) })])),
})
