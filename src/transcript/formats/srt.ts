import { hasCueTimes, readCues } from '../cues.ts'
import { layOut } from '../lay-out.ts'
import { unroll } from '../rolling.ts'
import type { Format } from '../source.ts'
import { pieceOfCue } from './webvtt.ts'

/** SubRip subtitles, and WebVTT that lost its first line. They carry no confidence. */
export const srt: Format = {
  id: 'srt',
  title: 'SRT subtitles',
  detect: ({ text, json }) => !json && hasCueTimes(text),
  open: ({ text, name }) => layOut(unroll(readCues(text, name, 'counter')).map(pieceOfCue)),
}
