import { CombscribeError } from '../errors.ts'
import { CLOCK, parseClock } from './clock.ts'

/** One subtitle: its times in seconds and its lines as they stand, markup included. */
export interface Cue {
  readonly at: number
  readonly until: number
  readonly payload: string
}

const TIMING = new RegExp(String.raw`^\s*(${CLOCK})\s*-{1,3}>\s*(${CLOCK})(?:\s.*)?$`)
/** A line that can only be meant as times: an arrow with a clock-like word before it. */
const MEANT_AS_TIMING = /^\s*[^\s>]*[:.,]\S*\s*-{1,3}>/

/** Whether a text holds subtitle times at all, well-formed or not. */
export const hasCueTimes = (text: string): boolean =>
  /^[ \t]*\d{1,3}:[\w:.,]{2,12}[ \t]*-{1,3}>[ \t]*\w/m.test(text) ||
  /^[ \t]*\w{1,3}:\d\d[:.,]\S{0,9}[ \t]*-->[ \t]*\d/m.test(text)

/**
 * Reads the cues of SRT and WebVTT alike. The npm readers that were tried lose speech here: a line after a blank line
 * inside a cue, a cue whose counter follows without a blank line, a cue with broken times; this one keeps the first two
 * and names the line of the third.
 */
export function readCues(text: string, name: string, names: 'counter' | 'anything'): Cue[] {
  const cues: { at: number; until: number; lines: string[] }[] = []
  const lines = text.split(/\r\n|\n|\r/)
  for (const [index, line] of lines.entries()) {
    const times = line.includes('->') ? TIMING.exec(line) : null
    if (times || (line.length < 200 && MEANT_AS_TIMING.test(line))) {
      const at = times?.[1] === undefined ? undefined : parseClock(times[1])
      const until = times?.[2] === undefined ? undefined : parseClock(times[2])
      if (at === undefined || until === undefined) throw brokenTimes(line, `${name}:${index + 1}`)
      dropName(cues.at(-1)?.lines, lines, index, names)
      cues.push({ at, until, lines: [] })
    } else cues.at(-1)?.lines.push(line)
  }
  return cues.map(({ at, until, lines }) => ({
    at,
    until,
    payload: lines.filter((line) => line.trim() !== '').join('\n'),
  }))
}

/** The line above the times is the next cue's counter or name, not the last words of the cue before. */
function dropName(last: string[] | undefined, lines: readonly string[], index: number, names: 'counter' | 'anything') {
  if (!last || last.length === 0) return
  const isCounter = /^\s*\d+\s*$/.test(lines[index - 1] ?? '')
  const standsApart = (lines[index - 2] ?? '') === '' && (lines[index - 1] ?? '') !== ''
  if (isCounter || (names === 'anything' && standsApart)) last.pop()
}

function brokenTimes(line: string, where: string): CombscribeError {
  return new CombscribeError(
    'bad-times',
    `"${line.trim().slice(0, 60)}" is no pair of subtitle times`,
    where,
    'write it like 00:01:02,500 --> 00:01:04,000 or export the subtitles again',
  )
}
