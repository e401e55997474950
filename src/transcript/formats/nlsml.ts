import { layOut, type Piece } from '../lay-out.ts'
import { readMarkup } from '../markup.ts'
import type { Format } from '../source.ts'
import { readTags } from '../tags.ts'

/**
 * Recognition results in the W3C's NLSML, as Vosk prints them on demand: interpretations of one utterance, best first.
 * Their `confidence` is no probability; only the order is kept.
 */
export const nlsml: Format = {
  id: 'nlsml',
  title: 'NLSML recognition results',
  detect: ({ text, json }) =>
    !json &&
    /^\s*(?:<\?xml[^>]{0,200}\?>\s*)?<result[\s>]/.test(text.slice(0, 2000)) &&
    text.includes('<interpretation'),
  open({ text }) {
    const pieces: Piece[] = []
    let ranked: string[] = []
    let said = ''
    let inside = false
    for (const part of readTags(text)) {
      if (part.kind === 'text') said += inside ? readMarkup(part.text).text : ''
      else if (part.name === 'input') {
        inside = part.kind === 'open'
        if (!inside) ranked.push(said.trim())
        said = ''
      } else if (part.name === 'result' && part.kind === 'close') {
        const [best = '', ...alternatives] = ranked
        pieces.push({ text: best, ...(alternatives.length > 0 && { alternatives }) })
        ranked = []
      }
    }
    return layOut(pieces)
  },
}
