import { parseClock } from '../clock.ts'
import { layOut, type Piece } from '../lay-out.ts'
import type { Format } from '../source.ts'

const LINE = /^\[(\d{1,3}:\d\d\.\d{2,3})\][ \t]*(.*)$/

/**
 * LRC, made for songs and written by recognisers: a time, then a line; header lines such as `[by:…]` are no speech. A
 * file of times with hundredths and no header is taken for time-stamped text, which reads it as well.
 */
export const lrc: Format = {
  id: 'lrc',
  title: 'LRC lyrics',
  detect: ({ text, json }) =>
    !json &&
    /^\s*\[(?:ar|al|ti|by|re|ve|au|offset|length|tool):[^\]\n]*\]\s*$/m.test(text.slice(0, 2000)) &&
    /^\[\d{1,3}:\d\d\.\d{2,3}\]/m.test(text),
  open({ text }) {
    const pieces = text.split(/\r\n|\n|\r/).flatMap((line): Piece[] => {
      const match = LINE.exec(line)
      const at = match ? parseClock(match[1]!) : undefined
      if (match && at !== undefined) return [{ at, text: match[2]! }]
      return /^\s*\[[a-z]+:[^\]]*\]\s*$/.test(line) ? [] : [{ text: line }]
    })
    return layOut(pieces)
  },
}
