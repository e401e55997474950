import { plus } from '../clock.ts'
import { isFiller } from '../fillers.ts'
import { type FlatWord, groupWords } from '../group-words.ts'
import { layOut } from '../lay-out.ts'
import { mergeChannels } from '../repeats.ts'
import type { Format } from '../source.ts'
import type { ConfidenceKind } from '../transcript.ts'

const ROW =
  /^(\S+)[ \t]+(\S+)[ \t]+(\d+(?:\.\d+)?|\*)[ \t]+(\d+(?:\.\d+)?|\*)[ \t]+(\S+)(?:[ \t]+(-?\d+(?:\.\d+)?(?:e-?\d+)?))?(?:[ \t]+\S+){0,3}[ \t]*$/

/**
 * CTM of the NIST scoring tools: file, channel, start, DURATION, word, perhaps a confidence. The number means what its
 * maker wanted: all in 0..1 are taken as they are, all up to 0 as logarithms (`exp`), anything else only ranks and is
 * left out.
 */
export const ctm: Format = {
  id: 'ctm',
  title: 'CTM (time-marked words)',
  detect: ({ text, json }) => !json && isTable(text, (line) => ROW.test(line) && !/^[\d.]+$/.test(ROW.exec(line)![5]!)),
  open({ text }) {
    const rows: { word: FlatWord; score?: number }[] = []
    let alternative = 0
    for (const line of text.split(/\r\n|\n|\r/)) {
      const row = line.length < 1000 && !line.startsWith(';;') ? ROW.exec(line) : null
      if (!row) continue
      const [, , channel, start, duration, word, score] = row
      if (/^<ALT_BEGIN>$/i.test(word!)) alternative = 1
      else if (/^<ALT>$/i.test(word!)) alternative++
      else if (/^<ALT_END>$/i.test(word!)) alternative = 0
      else if (alternative < 2 && !isFiller(word!)) {
        const at = Number(start)
        const times = Number.isFinite(at) ? { at, until: plus(at, Number(duration) || 0) } : {}
        rows.push({
          word: { text: word!, channel: channel!, ...times },
          ...(score !== undefined && { score: Number(score) }),
        })
      }
    }
    const kind = kindOf(rows.flatMap(({ score }) => (score === undefined ? [] : [score])))
    const words = rows.map(({ word, score }) =>
      score === undefined || kind === 'rank' || kind === undefined
        ? word
        : { ...word, confidence: kind === 'posterior' ? score : Math.exp(score) },
    )
    const pieces = groupWords(isMono(words) ? words.map(({ channel, ...word }) => word) : words)
    return layOut(mergeChannels(pieces), kind)
  },
}

function kindOf(scores: readonly number[]): ConfidenceKind | undefined {
  if (scores.length === 0) return undefined
  if (scores.every((score) => score >= 0 && score <= 1)) return 'posterior'
  return scores.every((score) => score <= 0) ? 'tokenprob' : 'rank'
}

const isMono = (words: readonly FlatWord[]): boolean => words.every(({ channel }) => channel === words[0]?.channel)

/** Whether at least two rows, and four fifths of all, have the shape; `;;` opens a comment. */
export function isTable(text: string, isRow: (line: string) => boolean): boolean {
  const lines = text
    .slice(0, 20_000)
    .split(/\r\n|\n|\r/)
    .filter((line) => line.trim() !== '' && !line.startsWith(';;'))
  const rows = lines.filter((line) => line.length < 1000 && isRow(line)).length
  return rows > 1 && rows >= 0.8 * lines.length
}
