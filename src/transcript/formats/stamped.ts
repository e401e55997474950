import { parseClock } from '../clock.ts'
import type { Format, OpenOptions } from '../source.ts'
import { speakerNames } from '../speakers.ts'
import type { Notice, Segment } from '../transcript.ts'
import { speechIn } from './plain.ts'

const CLOCK = String.raw`(?:\d{1,2}:)?\d{1,3}:\d\d(?:[.,]\d{1,3})?`
const RANGE = String.raw`(${CLOCK})(?:[ \t]*(?:-->|->|–|-)[ \t]*(${CLOCK}))?`
/** `[0:04]`, `[0:04.2 --> 0:06.0]`: in brackets, anywhere. */
const BRACKETED = new RegExp(String.raw`\[${RANGE}\][ \t]*:?[ \t]*`, 'g')
/** `0:04 hive three`, `(0:04) hive three`, `Speaker 1  0:04` and a stamp alone: bare, only at the ends of a line's head. */
const LINE_HEAD = new RegExp(
  String.raw`^[ \t]*((?:speaker|spk)[ _]?\w{1,3}[ \t]{1,9})?\(?${RANGE}\)?(?=[ \t]|\r?$)[ \t]*(?:[-–—][ \t]+)?`,
  'gim',
)

interface Stamp {
  readonly start: number
  readonly end: number
  readonly at: number
  readonly until?: number
  readonly speaker?: string
}

/** Text with a clock time before each stretch, as players, note apps and recogniser consoles print it. No confidence. */
export const stamped: Format = {
  id: 'stamped',
  title: 'text with time stamps such as [m:ss]',
  detect: ({ text, json }) => !json && stampsIn(text).length > 0,
  open: ({ text }, options) => openStamped(text, options),
}

function openStamped(text: string, options: OpenOptions) {
  const stamps = stampsIn(text)
  const names = speakerNames(text.replace(BRACKETED, ''), options.isTradeWord)
  const segments: Segment[] = []
  let speaker: string | undefined
  const add = (from: number, to: number, stamp?: Stamp) => {
    for (const segment of speechIn(text.slice(from, to), names)) {
      speaker = segment.speaker ?? stamp?.speaker ?? speaker
      segments.push({
        start: from + segment.start,
        end: from + segment.end,
        ...(stamp && { at: stamp.at }),
        ...(stamp?.until !== undefined && { until: stamp.until }),
        ...(speaker && { speaker }),
      })
    }
  }
  add(0, stamps[0]?.start ?? text.length)
  for (const [index, stamp] of stamps.entries()) add(stamp.end, stamps[index + 1]?.start ?? text.length, stamp)
  return { text, segments, notices: backwards(stamps) }
}

/**
 * The time stamps of a text; none when what looks like them is content ("a 1:1 syrup", "at 2:30"). Brackets count when
 * there are two or the text opens with one; bare times must open half of the lines and never run backwards.
 */
function stampsIn(text: string): Stamp[] {
  const bracketed = toStamps(text.matchAll(BRACKETED), 1)
  if (bracketed.length > 1 || bracketed[0]?.start === /\S/.exec(text)?.index) return bracketed
  const bare = toStamps(text.matchAll(LINE_HEAD), 2)
  const lines = text.match(/^[^\r\n]*\S/gm)?.length ?? 0
  return bare.length > 1 && bare.length * 2 >= lines && backwards(bare).length === 0 ? bare : []
}

function toStamps(matches: Iterable<RegExpExecArray>, clock: 1 | 2): Stamp[] {
  const stamps: Stamp[] = []
  for (const match of matches) {
    const at = parseClock(match[clock]!)
    const until = match[clock + 1] === undefined ? undefined : parseClock(match[clock + 1]!)
    if (at === undefined) continue
    const speaker = clock === 2 ? match[1]?.trim() : undefined
    const place = { start: match.index, end: match.index + match[0].length }
    stamps.push({ ...place, at, ...(until !== undefined && until >= at && { until }), ...(speaker && { speaker }) })
  }
  return stamps
}

function backwards(stamps: readonly Stamp[]): Notice[] {
  const found = stamps.find((stamp, index) => index > 0 && stamp.at < stamps[index - 1]!.at)
  if (!found) return []
  const span = { start: found.start, end: found.end }
  return [{ kind: 'order', span, message: 'the times run backwards here: several recordings, or cut by hand' }]
}
