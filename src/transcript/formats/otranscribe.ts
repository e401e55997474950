import * as z from '../../zod.ts'
import { checked, firstObject } from '../json-shape.ts'
import { known } from '../known.ts'
import { layOut, type Piece } from '../lay-out.ts'
import { readMarkup } from '../markup.ts'
import type { Format } from '../source.ts'
import { readTags } from '../tags.ts'
import { cuePiece } from '../turns.ts'

/** oTranscribe's own file: HTML typed by a person, with time stamps as elements. No confidence. */
export const otranscribe: Format = {
  id: 'otranscribe',
  title: 'oTranscribe (.otr)',
  detect: (source) =>
    /data-timestamp|class="timestamp"/.test(String(firstObject(source)?.text ?? '').slice(0, 100_000)),
  open(source) {
    const { text } = checked(z.object({ text: z.string() }), source.json?.[0], source, otranscribe.title)
    const pieces: Piece[] = []
    let at: number | undefined
    let inStamp = false
    for (const part of readTags(text)) {
      if (part.kind === 'text') {
        if (!inStamp) pieces.push(cuePiece(readMarkup(part.text).text.replace(/\s+/g, ' '), known({ at })))
      } else if (part.name === 'span' && part.kind === 'open' && part.attributes['data-timestamp'] !== undefined) {
        const seconds = Number(part.attributes['data-timestamp'])
        if (Number.isFinite(seconds)) at = seconds
        inStamp = true
      } else if (part.name === 'span') inStamp = false
    }
    return layOut(pieces)
  },
}
