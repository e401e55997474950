import { isFiller, withoutVariant } from '../fillers.ts'
import { type HeardWord, layOut, type Piece } from '../lay-out.ts'
import type { Format } from '../source.ts'

/** From the right: in keyword mode the first column is a phrase with spaces. */
const ROW = /^(\S.*?)\s+(\d+\.\d{3})\s+(\d+\.\d{3})\s+(\d\.\d{6})\s*$/

/**
 * pocketsphinx with `-time yes`: the text of an utterance, then `word start end posterior` a line. Confidence: the
 * posterior, cut at 1 (it prints 1.0001).
 */
export const pocketsphinxTime: Format = {
  id: 'pocketsphinx-time',
  title: 'pocketsphinx -time output',
  detect: ({ text, json }) =>
    !json && (text.match(/^\S.{0,200}\s\d+\.\d{3}\s\d+\.\d{3}\s\d\.\d{6}\s*$/gm)?.length ?? 0) > 1,
  open({ text }) {
    const pieces: Piece[] = []
    let words: HeardWord[] = []
    const close = () => {
      const said = words.map((word) => word.text).join(' ')
      if (words.length > 0) pieces.push({ text: said, at: words[0]!.at!, until: words.at(-1)!.until!, words })
      words = []
    }
    for (const line of text.split(/\r?\n/)) {
      const row = line.length < 400 ? ROW.exec(line) : null
      if (!row) close()
      else if (!isFiller(row[1]!)) {
        const times = { at: Number(row[2]), until: Number(row[3]) }
        words.push({ text: withoutVariant(row[1]!), ...times, confidence: Math.min(1, Number(row[4])) })
      }
    }
    close()
    return layOut(pieces, 'posterior')
  },
}
