import type { InspectionRecord, Value } from '../record/schema.ts'
import type { RowAnswer } from './choices.ts'
import type { Anchor, CorrectedPlace, CorrectionBody, PlacePart, Words } from './correction.ts'
import { sameValue } from './find.ts'
import { anchorOf, type Placed, placedIn, wordsAt } from './placed.ts'
import type { Question, Row } from './questions.ts'

/**
 * The corrections that an answer stands for. `answers`: one for each row; undefined leaves the row open. `record` and
 * `text` are what the question was made from.
 */
export function correctionsFrom(
  question: Question,
  answers: readonly (RowAnswer | undefined)[],
  record: InspectionRecord,
  text: string,
): CorrectionBody[] {
  const all = placedIn(record)
  const anchors = (row: Row): Anchor[] => anchorsFor(row.readings, all, text)
  const confirmed: Anchor[] = []
  const withdrawn: Anchor[] = []
  const placed = new Map<string, Anchor[]>()
  const changed: { value: Value; readings: Anchor[] }[] = []
  for (const [i, row] of question.rows.entries()) {
    const answer = answers[i]
    if (!answer) continue
    if (answer.is === 'as said') confirmed.push(...anchors(row))
    else if (answer.is === 'not said') withdrawn.push(...anchors(row))
    else if (answer.is === 'hive') placed.set(answer.hive, [...(placed.get(answer.hive) ?? []), ...anchors(row)])
    else {
      // The value is that of the row's own field; what was read for the hive from the same words follows only a yes or no.
      const own = anchors(row).filter(({ field }) => field === row.field)
      const known = changed.find(
        ({ value, readings }) => sameValue(value, answer.value) && readings[0]!.field === row.field,
      )
      if (known) known.readings.push(...own)
      else changed.push({ value: answer.value, readings: own })
    }
  }
  return [
    ...(confirmed.length > 0 ? [{ kind: 'confirm' as const, readings: confirmed }] : []),
    ...(withdrawn.length > 0 ? [{ kind: 'withdraw' as const, readings: withdrawn }] : []),
    ...changed.map(({ value, readings }) => ({ kind: 'value' as const, readings, value })),
    ...[...placed].map(([hive, readings]) => ({ kind: 'place' as const, readings, to: { hive } })),
  ]
}

/** All that was read at the question's hive from its stretch of the note, doubtful or not, was of another hive. */
export function wholeLookMoved(
  question: Question,
  hive: string,
  record: InspectionRecord,
  text: string,
): CorrectionBody[] {
  const all = placedIn(record)
  const inside = all.filter(
    (one) => one.hive === question.hive && one.reading.start >= question.start && one.reading.end <= question.end,
  )
  const readings = inside.map((placed) => anchorOf(placed, all, text))
  return [{ kind: 'place', readings, to: { hive } }]
}

/**
 * "From here on this was hive three": all that was read at the hive in hand from `start` to where the note turns to
 * another hive; with `whole`, to its end.
 */
export function movedFromHere(
  record: InspectionRecord,
  text: string,
  start: number,
  to: PlacePart,
  { whole = false }: { whole?: boolean } = {},
): CorrectionBody {
  const until = whole ? null : runEnd(record, text, start)
  return { kind: 'move', from: firstWords(text, start), until, to }
}

/** The last words of the run of readings of one hive that `start` stands in; null where it reaches the end of the note. */
function runEnd(record: InspectionRecord, text: string, start: number): Words | null {
  const later = placedIn(record)
    .filter(({ hive, reading }) => hive !== null && reading.quote !== '' && reading.start >= start)
    .sort((a, b) => a.reading.start - b.reading.start)
  const own = later[0]?.hive
  const next = later.findIndex(({ hive }) => hive !== own)
  if (next < 0) return null
  const last = later[next - 1]!.reading
  return wordsAt(text, last.start, last.end)
}

const firstWords = (text: string, start: number): Words => {
  const length = /^\S+(?:\s+\S+){0,3}/.exec(text.slice(start, start + 60))?.[0].length ?? 1
  return wordsAt(text, start, Math.min(text.length, start + length))
}

/** A value that was missed, from the words between two offsets of the note. */
export function added(
  text: string,
  words: { start: number; end: number },
  field: string,
  value: Value,
  place: CorrectedPlace,
): CorrectionBody {
  return { kind: 'add', words: wordsAt(text, words.start, words.end), field, value, place }
}

/** Anchors of readings by their ids, for corrections that do not come from a question. */
export function anchorsFor(ids: readonly string[], all: readonly Placed[], text: string): Anchor[] {
  return ids.flatMap((id) => {
    const placed = all.find(({ reading }) => reading.id === id)
    return placed ? [anchorOf(placed, all, text)] : []
  })
}
