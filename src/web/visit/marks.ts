import { type Flag, type InspectionRecord, lessSure, readingsIn } from '../../record/schema.ts'
import type { Transcript } from '../../transcript/transcript.ts'

/** A piece of what was said: plain words, or words that became something. */
export interface Piece {
  readonly text: string
  readonly start: number
  readonly end: number
  /** What it became: values (with the least sure flag among them), a place, a remark; null: nothing. */
  readonly is: Flag | 'place' | 'remark' | null
}

/** One line of the transcript. */
export interface Line {
  readonly start: number
  readonly end: number
  readonly at: number | null
  readonly pieces: readonly Piece[]
}

/** The transcript in its lines, each cut into pieces by what became of the words. */
export function linesOf({ text, segments }: Transcript, record: InspectionRecord): Line[] {
  const spans = valueSpans(record)
  const others = record.account.filter(({ kind }) => kind === 'place' || kind === 'remark')
  const lines: Line[] = []
  let s = 0
  let o = 0
  for (const { start, end, at = null } of segments) {
    const pieces: Piece[] = []
    let done = start
    const add = (from: number, to: number, is: Piece['is']): void => {
      if (to > from) pieces.push({ text: text.slice(from, to), start: from, end: to, is })
      done = Math.max(done, to)
    }
    while (s < spans.length && spans[s]!.end <= start) s++
    while (o < others.length && others[o]!.end <= start) o++
    let [i, j] = [s, o]
    while (done < end) {
      while (i < spans.length && spans[i]!.end <= done) i++
      while (j < others.length && others[j]!.end <= done) j++
      const value = spans[i]
      const other = others[j]
      // a remark that a value cuts off is behind us once the value begins
      const isValue = value !== undefined && (other === undefined || value.start <= Math.max(other.start, done))
      const next = isValue ? value : other
      if (!next || next.start >= end) {
        add(done, end, null)
        break
      }
      add(done, next.start, null)
      // A remark around a value ends where the value begins.
      const until = isValue || value === undefined ? next.end : Math.min(next.end, Math.max(value.start, done))
      const is = isValue ? value.flag : (other!.kind as 'place' | 'remark')
      add(Math.max(done, next.start), Math.min(until, end), is)
    }
    lines.push({ start, end, at, pieces })
  }
  return lines
}

/** The stretches of text that values were read from, those that overlap as one, in order. */
function valueSpans(record: InspectionRecord): { start: number; end: number; flag: Flag }[] {
  const sorted = readingsIn(record)
    .filter(({ reading }) => reading.quote !== '' && reading.end > reading.start)
    .sort((a, b) => a.reading.start - b.reading.start || b.reading.end - a.reading.end)
  const spans: { start: number; end: number; flag: Flag }[] = []
  for (const { reading } of sorted) {
    const last = spans[spans.length - 1]
    if (last && reading.start < last.end) {
      last.end = Math.max(last.end, reading.end)
      last.flag = lessSure(last.flag, reading.flag)
    } else spans.push({ start: reading.start, end: reading.end, flag: reading.flag })
  }
  return spans
}
