import { type Cue, readCues } from '../cues.ts'
import { known } from '../known.ts'
import { type HeardWord, layOut, type Piece } from '../lay-out.ts'
import { type Marked, readMarkup } from '../markup.ts'
import { unroll } from '../rolling.ts'
import type { Format } from '../source.ts'
import { cuePiece } from '../turns.ts'

/** Subtitles of the web (W3C). They carry no confidence; inline times give the start of words. */
export const webvtt: Format = {
  id: 'webvtt',
  title: 'WebVTT subtitles',
  detect: ({ text }) => /^WEBVTT(?:[ \t\r\n]|$)/.test(text),
  open({ text, name }) {
    return layOut(unroll(readCues(withoutBlocks(text), name, 'anything')).map(pieceOfCue))
  },
}

export function pieceOfCue({ at, until, payload }: Cue): Piece {
  const marked = readMarkup(payload)
  const piece = cuePiece(marked.text, { at, ...known({ until: until >= at ? until : null, speaker: marked.speaker }) })
  return marked.times.length > 0 ? { ...piece, words: timedWords(marked, at) } : piece
}

/** The words after an inline time share it as their start; those before the first have the cue's. */
function timedWords({ text, times }: Marked, start: number): HeardWord[] {
  const marks = [{ from: 0, at: start }, ...times]
  return marks.flatMap(({ from, at }, index) => {
    const chunk = text.slice(from, marks[index + 1]?.from)
    return (chunk.match(/\S+/g) ?? []).map((word) => ({ text: word, at }))
  })
}

/** Comments and styles, which stand after a blank line, emptied line by line so that line numbers in messages stay right. */
const withoutBlocks = (text: string): string =>
  text
    .replace(/\r\n?/g, '\n')
    .replace(/(?<=\n\n)(?:NOTE|STYLE|REGION)(?:[ \t][^\n]*)?(?:\n[^\n]+)*/g, (block) => block.replace(/[^\n]+/g, ''))
