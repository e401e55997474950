import { layOut, type Piece } from '../lay-out.ts'
import type { Format } from '../source.ts'
import { isTable } from './ctm.ts'

const ROW = /^\S+[ \t]+(\S+)[ \t]+(\S+)[ \t]+(\d+(?:\.\d+)?)[ \t]+(\d+(?:\.\d+)?)[ \t]+(?:<[^<>]*>[ \t]*)?(.*)$/

/** STM of the NIST scoring tools: file, channel, speaker, start, END, labels, words. No confidence. */
export const stm: Format = {
  id: 'stm',
  title: 'STM (time-marked segments)',
  detect: ({ text, json }) =>
    !json &&
    isTable(text, (line) => {
      const row = ROW.exec(line)
      return row !== null && Number(row[3]) < Number(row[4])
    }),
  open({ text }) {
    const pieces = text.split(/\r\n|\n|\r/).flatMap((line): Piece[] => {
      const row = line.startsWith(';;') ? null : ROW.exec(line)
      if (!row || row[5] === 'IGNORE_TIME_SEGMENT_IN_SCORING') return []
      const [, , speaker, at, until, said] = row
      return [{ text: firstOfChoices(said!), speaker: speaker!, at: Number(at), until: Number(until) }]
    })
    return layOut(pieces)
  },
}

/** `{ um / uh / @ }` lists what may have been said; `@` is nothing. */
const firstOfChoices = (text: string): string =>
  text
    .replace(/\{([^{}/]*)(?:\/[^{}]*)?\}/g, (_, first: string) => (first.trim() === '@' ? '' : first.trim()))
    .replace(/ {2,}/g, ' ')
