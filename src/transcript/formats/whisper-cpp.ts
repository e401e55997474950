import * as z from '../../zod.ts'
import { checked, firstObject, firstOf, label, maybe, milliseconds, unit } from '../json-shape.ts'
import { known } from '../known.ts'
import { type HeardWord, layOut, type Piece } from '../lay-out.ts'
import type { Format } from '../source.ts'

/**
 * whisper.cpp, `-oj` and `-ojf`. Its tokens are pieces of words: one that starts with a space opens a word. Confidence
 * of a word: the mean `p` of its tokens, punctuation left out.
 */
export const whisperCpp: Format = {
  id: 'whisper-cpp',
  title: 'whisper.cpp JSON',
  detect: (source) => {
    const top = firstObject(source)
    return Array.isArray(top?.transcription) && ('systeminfo' in top || 'offsets' in (firstOf(top.transcription) ?? {}))
  },
  open(source) {
    const { transcription } = checked(schema, source.json?.[0], source, whisperCpp.title)
    return layOut(transcription.map(pieceOf), 'tokenprob')
  },
}

const offsets = z.object({ from: milliseconds, to: milliseconds })
const token = z.object({ text: z.string(), offsets: maybe(offsets), p: maybe(unit) })
const schema = z.object({
  transcription: z.array(
    z.object({ text: z.string(), offsets: maybe(offsets), speaker: maybe(label), tokens: maybe(z.array(token)) }),
  ),
})
type Token = z.output<typeof token>

function pieceOf({ text, offsets, speaker, tokens }: z.output<typeof schema>['transcription'][number]): Piece {
  const words = wordsOf(tokens ?? [])
  const times = known({ at: offsets?.from, until: offsets?.to })
  return { text, ...times, ...known({ speaker: speaker === '?' ? null : speaker }), ...(words.length > 0 && { words }) }
}

function wordsOf(tokens: readonly Token[]): HeardWord[] {
  const groups: Token[][] = []
  for (const token of tokens) {
    if (/^(?:\[_.*\]|<\|.*\|>)$/.test(token.text.trim())) continue
    if (groups.length === 0 || /^\s/.test(token.text)) groups.push([token])
    else groups.at(-1)!.push(token)
  }
  return groups.map((group) => {
    const rated = group.flatMap(({ text, p }) => (p != null && /[\p{L}\p{N}]/u.test(text) ? [p] : []))
    const confidence = rated.length > 0 ? rated.reduce((sum, p) => sum + p, 0) / rated.length : undefined
    const text = group.map((token) => token.text).join('')
    return { text, ...known({ at: group[0]?.offsets?.from, until: group.at(-1)?.offsets?.to, confidence }) }
  })
}
