import { parseClock } from '../clock.ts'
import { known } from '../known.ts'
import { layOut, type Piece } from '../lay-out.ts'
import type { Format } from '../source.ts'
import { cuePiece } from '../turns.ts'

const TIMES = /^(\d{1,3}:\d\d:\d\d\.\d{3}),(\d{1,3}:\d\d:\d\d\.\d{3})[ \t]*\r?$/gm

/** SBV subtitles: a line with two times, then the words. No confidence. */
export const sbv: Format = {
  id: 'sbv',
  title: 'SBV subtitles',
  detect: ({ text, json }) => !json && text.slice(0, 10_000).match(TIMES) !== null,
  open({ text }) {
    const marks = [...text.matchAll(TIMES)]
    const pieces = marks.map((match, index): Piece => {
      const said = text.slice(match.index + match[0].length, marks[index + 1]?.index).trim()
      const at = parseClock(match[1]!)
      const until = parseClock(match[2]!)
      return cuePiece(said, known({ at, until }))
    })
    return layOut(pieces)
  },
}
