import type { InspectionRecord, Value } from '../record/schema.ts'
import type { Span } from '../span.ts'
import type { RowAnswer } from './choices.ts'
import type { Anchor, CorrectedPlace, CorrectionBody, PlacePart, Words } from './correction.ts'
import { sameValue } from './find.ts'
import { anchorOf, type Placed, placedIn, saidAtHives, wordsAt } from './placed.ts'
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
  const changed: { value: Value; hive: string | undefined; readings: Anchor[] }[] = []
  for (const [i, row] of question.rows.entries()) {
    const answer = answers[i]
    if (!answer) continue
    if (answer.is === 'as said') confirmed.push(...anchors(row))
    else if (answer.is === 'not said') withdrawn.push(...anchors(row))
    else if (answer.is === 'hive') placed.set(answer.hive, [...(placed.get(answer.hive) ?? []), ...anchors(row)])
    else {
      const { value, hive } = answer
      // Another value stands in the row's own field; what the old one told of the hive as a whole falls with it.
      const own = anchors(row).filter(({ field }) => field === row.field)
      withdrawn.push(...anchors(row).filter(({ field }) => field !== row.field))
      const known = changed.find(
        (one) => sameValue(one.value, value) && one.hive === hive && one.readings[0]!.field === row.field,
      )
      if (known) known.readings.push(...own)
      else changed.push({ value, hive, readings: own })
    }
  }
  return [
    ...(confirmed.length > 0 ? [{ kind: 'confirm' as const, readings: confirmed }] : []),
    ...(withdrawn.length > 0 ? [{ kind: 'withdraw' as const, readings: withdrawn }] : []),
    ...changed.flatMap(({ value, hive, readings }): CorrectionBody[] => [
      { kind: 'value', readings, value },
      ...(hive === undefined
        ? []
        : [{ kind: 'place' as const, readings: readings.map((anchor) => ({ ...anchor, value })), to: { hive } }]),
    ]),
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

/** How far a wrong hive reaches: the rest of the stretch spoken of it, the whole stretch, or the rest of the note. */
export type Reach = 'from here' | 'whole stretch' | 'rest of the note'

/**
 * "From here on this was hive three": everything below `start` (an offset of the note) moves, as far as the note stayed
 * at the hive that was taken for the one in hand; or the whole of that stretch; or all of the rest of the note.
 */
export function movedFrom(
  record: InspectionRecord,
  text: string,
  start: number,
  to: PlacePart,
  reach: Reach = 'from here',
): CorrectionBody {
  const stretch = stretchAt(record, start)
  const first = reach === 'whole stretch' && stretch ? stretch.start : start
  const until = reach === 'rest of the note' || !stretch ? null : wordsAt(text, stretch.last.start, stretch.last.end)
  return { kind: 'move', from: firstWords(text, first), until, to }
}

/** The stretch of readings of one hive that the reading at or behind `start` stands in. */
export function stretchAt(
  record: InspectionRecord,
  start: number,
): { start: number; last: Span; ids: string[] } | null {
  const said = saidAtHives(placedIn(record))
  const at = said.findIndex(({ reading }) => reading.start >= start)
  if (at < 0) return null
  const own = said[at]!.hive
  let [from, to] = [at, at]
  while (said[from - 1]?.hive === own) from--
  while (said[to + 1]?.hive === own) to++
  const ids = said.slice(from, to + 1).map(({ reading }) => reading.id)
  return { start: said[from]!.reading.start, last: said[to]!.reading, ids }
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
