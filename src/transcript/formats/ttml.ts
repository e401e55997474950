import { CombscribeError } from '../../errors.ts'
import { lineOf } from '../../span.ts'
import { parseClock } from '../clock.ts'
import { known } from '../known.ts'
import { layOut, type Piece } from '../lay-out.ts'
import { readMarkup } from '../markup.ts'
import type { Format } from '../source.ts'
import { readTags } from '../tags.ts'
import { cuePiece } from '../turns.ts'

/** Timed text of the W3C (TTML): each `<p>` is a cue. No confidence. */
export const ttml: Format = {
  id: 'ttml',
  title: 'TTML subtitles',
  detect: ({ text, json }) =>
    !json &&
    /^\s*(?:<\?xml[^>]{0,200}\?>\s*)?(?:<!--[\s\S]{0,2000}?-->\s*)?<(?:\w{1,20}:)?tt[\s>]/.test(text.slice(0, 5000)),
  open({ text, name }) {
    const pieces: Piece[] = []
    let rates: Rates = { frame: 30, tick: 1 }
    let cue: { at?: number; until?: number; speaker?: string; text: string } | undefined
    for (const part of readTags(text)) {
      if (part.kind === 'text') {
        if (cue) cue.text += readMarkup(part.text).text
      } else if (part.name === 'tt' && part.kind === 'open') rates = ratesOf(part.attributes)
      else if (part.name === 'br' && part.kind === 'open' && cue) cue.text += ' '
      else if (part.name === 'p' && part.kind === 'close' && cue) {
        const { text: said, ...rest } = cue
        pieces.push(cuePiece(said.replace(/\s+/g, ' '), rest))
        cue = undefined
      } else if (part.name === 'p' && part.kind === 'open') {
        const { begin, end, dur, agent } = part.attributes
        const seconds = (value: string | undefined) => {
          if (value === undefined) return undefined
          const time = parseTime(value, rates)
          if (time === undefined) throw brokenTime(value, `${name}:${lineOf(text, text.indexOf(`"${value}"`)).line}`)
          return time
        }
        const at = seconds(begin)
        const length = seconds(dur)
        const until = seconds(end) ?? (at !== undefined && length !== undefined ? at + length : undefined)
        cue = { text: '', ...known({ at, until, speaker: agent }) }
      }
    }
    return layOut(pieces)
  },
}

interface Rates {
  readonly frame: number
  readonly tick: number
}

const ratesOf = ({ framerate, tickrate }: Readonly<Record<string, string>>): Rates => ({
  frame: Number(framerate) || 30,
  tick: Number(tickrate) || 1,
})

/** `00:00:01.2`, `00:00:01:12` (the last part counts frames), `1.2s`, `1200ms`, `30f`, `12000000t`. */
function parseTime(value: string, { frame, tick }: Rates): number | undefined {
  const frames = /^(\d+:\d\d:\d\d):(\d+)$/.exec(value)
  if (frames) return (parseClock(frames[1]!) ?? 0) + Number(frames[2]) / frame
  const offset = /^(\d+(?:\.\d+)?)(h|m|s|ms|f|t)$/.exec(value)
  if (!offset) return parseClock(value)
  const size = { h: 3600, m: 60, s: 1, ms: 0.001, f: 1 / frame, t: 1 / tick }[offset[2] as 'h']
  return Number(offset[1]) * size
}

const brokenTime = (value: string, where: string) =>
  new CombscribeError('bad-times', `"${value.slice(0, 40)}" is no time`, where, 'export the subtitles again')
