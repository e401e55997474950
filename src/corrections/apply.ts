import { fieldInfo } from '../record/fields.ts'
import type { InspectionRecord, Value } from '../record/schema.ts'
import { type Anchor, type Correction, standing } from './correction.ts'
import { findReading, sameValue, wordsNow } from './find.ts'
import { type Placed, placedIn, rebuilt } from './placed.ts'
import { add, alike, dropDoubles, leave, put, type Work } from './work.ts'

/** A correction (or the part of it about some readings) that did not find what it is about. */
export interface Orphan {
  readonly correction: Correction
  /** The readings that were not found; empty for a correction that is about words or hives. */
  readonly readings: readonly Anchor[]
}

/**
 * The record as a person left it. The corrections are replayed in their order on what the reader gives now: `text` is
 * the note's text now (without it, the words are taken to be where they were). What does not find its reading or its
 * words is given back in `orphaned` and changes nothing. Pure: `record` stays as it is; applying twice changes nothing more.
 */
export function applyCorrections(
  record: InspectionRecord,
  corrections: readonly Correction[],
  text?: string,
): { record: InspectionRecord; orphaned: Orphan[] } {
  const holding = standing(corrections)
  if (holding.length === 0) return { record, orphaned: [] }
  const work: Work = {
    // A reading is replaced when it changes, never written into: the caller's record shares them.
    items: placedIn(record),
    record: { ...record, remarks: [...record.remarks], questions: [...record.questions] },
    withdrawn: new Set(),
    changed: new Set(),
    gone: new Set(),
    text,
  }
  const orphaned: Orphan[] = []
  for (const correction of holding) {
    const lost = replay(work, correction)
    if (lost) orphaned.push({ correction, readings: lost })
    dropDoubles(work)
  }
  return { record: withAccount(rebuilt(work.record, work.items, work.gone), work), orphaned }
}

/** Replays one correction; gives the anchors that found nothing, or undefined where all did. */
function replay(work: Work, correction: ReturnType<typeof standing>[number]): Anchor[] | undefined {
  switch (correction.kind) {
    case 'confirm':
      return eachReading(work, correction.readings, (placed, anchor) =>
        assert(work, placed, anchor, correction, anchor.value),
      )
    case 'value':
      return eachReading(work, correction.readings, (placed, anchor) =>
        assert(work, placed, anchor, correction, correction.value),
      )
    case 'place':
      return eachReading(work, correction.readings, (placed, anchor) => {
        assert(work, placed, anchor, correction, anchor.value)
        leave(work, placed, correction.to)
        put(work, placed, correction.to)
      })
    case 'withdraw': {
      const lost: Anchor[] = []
      const same = new Set<Placed>()
      for (const anchor of correction.readings) {
        const found = findReading(anchor, work.items, work.text)
        // Were another value read from these words now, that one was never denied.
        if (found.is !== 'reading' || !sameValue(found.placed.reading.value, anchor.value)) lost.push(anchor)
        else for (const one of alike(work, found.placed)) same.add(one)
      }
      work.items = work.items.filter((one) => !same.has(one))
      for (const { reading } of same) work.withdrawn.add(reading.id)
      return lost.length > 0 ? lost : undefined
    }
    case 'add': {
      const now = wordsNow(correction.words, work.text)
      if (!now || !fieldInfo(correction.field)) return []
      add(work, { ...correction, ...now, quote: correction.words.quote, by: author(correction) })
      return undefined
    }
    case 'move':
      return move(work, correction) ? undefined : []
    case 'date':
      work.record = { ...work.record, date: correction.date }
      return undefined
    case 'apart':
      return undefined
    case 'merge':
      return merge(work, correction.from, correction.into) ? undefined : []
  }
}

const author = ({ kind, who }: Correction): string =>
  `${kind === 'confirm' ? 'confirmed' : 'put right'}${who ? ` by ${who}` : ''}`

/** Does `use` to each reading that is found; one that the reader no longer gives, from words that are still there, comes back. */
function eachReading(
  work: Work,
  anchors: readonly Anchor[],
  use: (placed: Placed, anchor: Anchor) => void,
): Anchor[] | undefined {
  const lost: Anchor[] = []
  // All are looked up before any is changed: what one anchor changes must not hide another's reading.
  const each = anchors.map((anchor) => {
    const found = findReading(anchor, work.items, work.text)
    return { anchor, found, same: found.is === 'reading' ? alike(work, found.placed) : [] }
  })
  for (const { anchor, found, same } of each) {
    if (found.is === 'reading') for (const one of same) use(one, anchor)
    else if (found.is === 'lost' || !fieldInfo(anchor.field)) lost.push(anchor)
    else {
      const { field, value, place, words, entry } = anchor
      const kept = { field, value, place, quote: words.quote, start: found.start, end: found.end, by: 'kept', entry }
      use(add(work, kept), anchor)
    }
  }
  return lost.length > 0 ? lost : undefined
}

/** A person said that this value stands here. */
function assert(work: Work, placed: Placed, anchor: Anchor, correction: Correction, value: Value): void {
  const { reading } = placed
  const { kind } = correction
  put(work, placed, anchor.place)
  if (!sameValue(reading.value, value)) work.changed.add(placed)
  const isRead = kind === 'confirm' && sameValue(reading.value, value) && reading.how !== 'corrected'
  const by = author(correction)
  const evidence = reading.evidence.some((one) => one.by === by)
    ? reading.evidence
    : [...reading.evidence, { quote: reading.quote, start: reading.start, end: reading.end, by }]
  const others = reading.alternatives.filter(
    (one) => !sameValue(one.value, value) && !sameValue(one.value, anchor.value),
  )
  const before = { value: anchor.value, confidence: 0, why: 'corrected', quote: reading.quote }
  placed.reading = {
    ...placed.reading,
    value,
    confidence: 1,
    flag: 'sure',
    how: isRead ? reading.how : 'corrected',
    evidence,
    alternatives: sameValue(anchor.value, value) ? others : [...others, before],
  }
}

/** Everything said in a stretch of the note goes to another place. */
function move(work: Work, { from, until, to }: Extract<Correction, { kind: 'move' }>): boolean {
  const first = wordsNow(from, work.text)
  const last = until === null ? { end: Number.POSITIVE_INFINITY } : wordsNow(until, work.text)
  if (!first || !last) return false
  const isIn = ({ start }: { start: number }): boolean => start >= first.start && start < last.end
  for (const placed of work.items) {
    if (placed.hive === null || !isIn(placed.reading)) continue
    const finest = fieldInfo(placed.reading.field)?.place ?? 'hive'
    leave(work, placed, to)
    const { hive, box, frame, side } = to
    put(work, placed, {
      ...(hive === undefined ? {} : { hive }),
      ...(box === undefined || finest === 'hive' ? {} : { box }),
      ...(frame === undefined || finest === 'hive' || finest === 'box' ? {} : { frame }),
      ...(side === undefined || finest !== 'side' ? {} : { side }),
    })
  }
  const { hive } = to
  const moved = <T extends { hive: string; start: number }>(one: T): T =>
    isIn(one) && hive !== undefined && hive !== null ? { ...one, hive } : one
  work.record = {
    ...work.record,
    remarks: work.record.remarks.map(moved),
    questions: work.record.questions.map(moved),
  }
  return true
}

/** One label's everything becomes the other's. */
function merge(work: Work, from: string, into: string): boolean {
  const named = <T extends { hive: string }>(one: T): T => (one.hive === from ? { ...one, hive: into } : one)
  const known = work.record.hives.some(({ hive }) => hive === from) || work.items.some(({ hive }) => hive === from)
  if (!known) return work.gone.has(from)
  for (const placed of work.items) if (placed.hive === from) put(work, placed, { hive: into })
  work.gone.add(from)
  work.record = {
    ...work.record,
    remarks: work.record.remarks.map(named),
    questions: work.record.questions.map(named),
  }
  return true
}

/** The account names the readings that there are now. */
function withAccount(record: InspectionRecord, { items, withdrawn }: Work): InspectionRecord {
  const added = items.filter(({ pointer, reading }) => pointer === '' && reading.end > reading.start)
  if (withdrawn.size === 0 && added.length === 0) return record
  const account = record.account.map((entry) => {
    const left = entry.readings.filter((id) => !withdrawn.has(id))
    const fresh = added
      .filter(({ reading }) => reading.start < entry.end && entry.start < reading.end)
      .map(({ reading }) => reading.id)
      .filter((id) => !left.includes(id))
    if (left.length === entry.readings.length && fresh.length === 0) return entry
    const readings = [...left, ...fresh]
    if (readings.length > 0) return { ...entry, kind: 'evidence' as const, readings }
    return { ...entry, kind: entry.kind === 'evidence' ? ('talk' as const) : entry.kind, readings }
  })
  return { ...record, account }
}
