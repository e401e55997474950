import { layOut, type Piece } from '../lay-out.ts'
import type { Format } from '../source.ts'

/** Whisper's tables: `start`, `end` (milliseconds), perhaps `speaker`, and `text`, by tabs or commas. No confidence. */
export const whisperTable: Format = {
  id: 'whisper-table',
  title: 'Whisper TSV or CSV',
  detect: ({ text, json }) => !json && HEADER.test(text),
  open({ text }) {
    const [header = '', ...lines] = text.split(/\r\n|\n|\r/)
    const separator = header.includes('\t') ? '\t' : ','
    const hasSpeaker = header.includes('speaker')
    return layOut(lines.filter((line) => line.trim() !== '').map((line) => pieceOf(line, separator, hasSpeaker)))
  },
}

const HEADER = /^start(\t|,)end\1(?:speaker\1)?text[ \t]*(?:[\r\n]|$)/

/** Only the last column can hold the separator, quoted or not, so the row is cut from the left. */
function pieceOf(line: string, separator: string, hasSpeaker: boolean): Piece {
  const cells = line.split(separator)
  const said = cells
    .slice(hasSpeaker ? 3 : 2)
    .join(separator)
    .trim()
  const text = /^".*"$/.test(said) ? said.slice(1, -1).replaceAll('""', '"') : said
  const [at, until] = [Number(cells[0]) / 1000, Number(cells[1]) / 1000]
  // A row without times is the rest of the row before, broken by a line break inside quotes.
  if (!Number.isFinite(at) || cells.length < 3) return { text: line.replace(/"$/, '') }
  const speaker = hasSpeaker ? cells[2]!.replaceAll('"', '').trim() : ''
  return {
    at,
    ...(until >= at && { until }),
    ...(speaker && speaker !== '?' && { speaker }),
    text: text.replace(/^"/, ''),
  }
}
