import { leading } from '../span.ts'
import type { Transcript } from '../transcript/transcript.ts'
import type { AccountEntry, Remark } from './schema.ts'
import type { Mark } from './turn.ts'

/**
 * What became of every stretch of the source: evidence, place, remark, talk, a mark of the format, or space. The entries
 * are disjoint, in order, and cover the whole text.
 */
export function accountOf(
  transcript: Transcript,
  marks: readonly Mark[],
  evidence: readonly { start: number; end: number; reading: string }[],
): AccountEntry[] {
  const { text } = transcript
  const pieces: AccountEntry[] = []
  const points = new Map<string, AccountEntry>()
  for (const e of evidence) {
    const key = `${e.start}:${e.end}`
    const known = points.get(key)
    if (known) {
      if (!known.readings.includes(e.reading)) known.readings.push(e.reading)
    } else
      points.set(key, { start: e.start, end: e.end, kind: 'evidence', standing: 'affirmed', readings: [e.reading] })
  }
  for (const mark of marks) {
    const key = `${mark.start}:${mark.end}`
    const known = points.get(key)
    if (known) known.standing = mark.standing
    else
      points.set(key, {
        start: mark.start,
        end: mark.end,
        kind: mark.kind === 'evidence' ? 'remark' : mark.kind,
        standing: mark.standing,
        readings: [],
      })
  }
  const rank: Record<AccountEntry['kind'], number> = {
    evidence: 0,
    place: 1,
    remark: 2,
    talk: 3,
    suspect: 4,
    mark: 5,
    space: 6,
  }
  const ordered = [...points.values()].sort((a, b) => a.start - b.start || rank[a.kind] - rank[b.kind] || b.end - a.end)
  let at = 0
  for (const entry of ordered) {
    if (entry.end <= at) {
      mergeInto(pieces, entry)
      continue
    }
    const start = Math.max(entry.start, at)
    fill(pieces, transcript, at, start)
    pieces.push({ ...entry, start })
    at = entry.end
  }
  fill(pieces, transcript, at, text.length)
  return pieces
}

/** An entry inside one that is already down: its readings rest on those words too. */
function mergeInto(pieces: AccountEntry[], entry: AccountEntry): void {
  for (let i = pieces.length - 1; i >= 0; i--) {
    const piece = pieces[i]!
    if (piece.end <= entry.start) return
    for (const reading of entry.readings) if (!piece.readings.includes(reading)) piece.readings.push(reading)
    if (entry.readings.length > 0 && piece.kind !== 'evidence') piece.kind = 'evidence'
  }
}

function fill(pieces: AccountEntry[], transcript: Transcript, from: number, to: number): void {
  if (to <= from) return
  let at = from
  for (const segment of segmentsIn(transcript, from, to)) {
    if (segment.start > at) gap(pieces, transcript.text, at, Math.min(segment.start, to), 'mark')
    const start = Math.max(at, segment.start)
    const end = Math.min(to, segment.end)
    if (end > start) gap(pieces, transcript.text, start, end, segment.suspect ? 'suspect' : 'talk')
    at = Math.max(at, end)
  }
  if (at < to) gap(pieces, transcript.text, at, to, 'mark')
}

function segmentsIn(transcript: Transcript, from: number, to: number): typeof transcript.segments {
  const out = []
  for (
    let i = leading(transcript.segments, ({ end }) => end <= from);
    i < transcript.segments.length && transcript.segments[i]!.start < to;
    i++
  )
    out.push(transcript.segments[i]!)
  return out
}

function gap(pieces: AccountEntry[], text: string, start: number, end: number, kind: AccountEntry['kind']): void {
  if (end <= start) return
  const words = text.slice(start, end)
  pieces.push({ start, end, kind: /[\p{L}\d]/u.test(words) ? kind : 'space', standing: 'unread', readings: [] })
}

/** Words that speak of bees and became no reading. */
export function remarksOf(account: readonly AccountEntry[], marks: readonly Mark[], text: string): Remark[] {
  const out: Remark[] = []
  const byStart = new Map(marks.map((mark) => [mark.start, mark]))
  for (const entry of account) {
    if (entry.kind !== 'remark') continue
    const mark = byStart.get(entry.start)
    out.push({
      hive: mark?.place.hive ?? '',
      box: mark?.place.box ?? null,
      frame: mark?.place.frame ?? null,
      side: mark?.place.side ?? null,
      quote: text.slice(entry.start, entry.end),
      start: entry.start,
      end: entry.end,
      at: mark?.place.at ?? null,
      standing: entry.standing,
    })
  }
  return out
}
