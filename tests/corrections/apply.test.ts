import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { added, anchorsFor, correctionsFrom, movedFrom, wholeLookMoved } from '../../src/corrections/answer.ts'
import { applyCorrections } from '../../src/corrections/apply.ts'
import { type Correction, type CorrectionBody, stamped } from '../../src/corrections/correction.ts'
import { placedIn } from '../../src/corrections/placed.ts'
import { questionsFor } from '../../src/corrections/questions.ts'
import { readNote } from '../../src/read-note.ts'
import { flatten, type InspectionRecord, recordSchema } from '../../src/record/schema.ts'

const text =
  'Hive two. Six frames of brood, saw eggs. Five frames of honey. Hive four. Two frames of brood, no eggs. Queen seen.'
const read = (words = text) => readNote(words, { name: 'note', date: '2026-05-04' })

let n = 0
const made = (...bodies: CorrectionBody[]): Correction[] =>
  bodies.map((body) => stamped(body, { id: `c${n++}`, at: '2026-05-04T20:00:00Z', who: 'ann' }))
const anchors = (record: InspectionRecord, field: string, hive: string, words = text) =>
  anchorsFor(
    placedIn(record)
      .filter((one) => one.reading.field === field && one.hive === hive)
      .map(({ reading }) => reading.id),
    placedIn(record),
    words,
  )
/** `2 frames.brood 6 corrected`, line by line. */
const lines = (record: InspectionRecord) =>
  flatten(record).map(
    ({ hive, field, value, how }) => `${hive} ${field} ${value}${how === 'corrected' ? ' corrected' : ''}`,
  )

describe('each kind does what it says and nothing else', () => {
  const before = lines(read())
  const done = (...bodies: CorrectionBody[]) => {
    const { record, orphaned } = applyCorrections(read(), made(...bodies), text)
    expect(recordSchema.safeParse(record).success).toBe(true)
    expect(orphaned).toEqual([])
    return { record, lines: lines(record) }
  }

  test('the note has something to put right', () => {
    expect(before).toEqual(expect.arrayContaining(['2 frames.brood 6', '4 frames.brood 2', '4 eggs.present no']))
  })
  test('value', () => {
    const readings = anchors(read(), 'frames.brood', '2')
    const { record, lines: now } = done({ kind: 'value', readings, value: 5 })
    expect(now).toEqual(before.map((line) => (line === '2 frames.brood 6' ? '2 frames.brood 5 corrected' : line)))
    const { reading } = placedIn(record).find((one) => one.reading.field === 'frames.brood')!
    expect(reading).toMatchObject({ confidence: 1, flag: 'sure', alternatives: [{ value: 6, why: 'corrected' }] })
    expect(reading.evidence.at(-1)!.by).toBe('put right by ann')
  })
  test('confirm', () => {
    const { record, lines: now } = done({ kind: 'confirm', readings: anchors(read(), 'frames.brood', '2') })
    expect(now).toEqual(before)
    expect(flatten(record).find(({ field }) => field === 'frames.brood')).toMatchObject({ confidence: 1, flag: 'sure' })
  })
  test('withdraw', () => {
    const { record, lines: now } = done({ kind: 'withdraw', readings: anchors(read(), 'eggs.present', '4') })
    expect(now).toEqual(before.filter((line) => line !== '4 eggs.present no'))
    const ids = new Set(placedIn(record).map(({ reading }) => reading.id))
    expect(record.account.flatMap(({ readings }) => readings).filter((id) => !ids.has(id))).toEqual([])
  })
  test('place', () => {
    const { lines: now } = done({ kind: 'place', readings: anchors(read(), 'queen.seen', '4'), to: { hive: '2' } })
    expect(now).toContain('2 queen.seen yes corrected')
    expect(now).not.toContain('4 queen.seen yes')
  })
  test('add', () => {
    const start = text.indexOf('saw eggs')
    const place = { hive: '2', box: null, frame: null, side: null }
    const { lines: now } = done(added(text, { start, end: start + 8 }, 'larvae.present', 'yes', place))
    expect(now).toEqual(expect.arrayContaining([...before, '2 larvae.present yes corrected']))
  })
  test('move: from here on as far as the note stayed at that hive, the whole stretch, the rest of the note', () => {
    const from = text.indexOf('Five frames')
    const here = done(movedFrom(read(), text, from, { hive: '3' })).lines
    expect(here).toEqual(expect.arrayContaining(['2 frames.brood 6', '3 frames.honey 5', '4 frames.brood 2']))
    const whole = done(movedFrom(read(), text, from, { hive: '3' }, 'whole stretch')).record
    expect(whole.hives.map(({ hive }) => hive).sort()).toEqual(['3', '4'])
    const rest = done(movedFrom(read(), text, from, { hive: '3' }, 'rest of the note')).record
    expect(rest.hives.map(({ hive }) => hive).sort()).toEqual(['2', '3'])
  })
  test('date', () => {
    expect(done({ kind: 'date', date: '2026-05-03' }).record.date).toBe('2026-05-03')
  })
  test('merge', () => {
    const { record } = done({ kind: 'merge', from: '4', into: '2' })
    expect(record.hives.map(({ hive }) => hive)).toEqual(['2'])
    expect(flatten(record).length).toBe(flatten(read()).length)
  })
  test('undo, and undo of an undo', () => {
    const [value] = made({ kind: 'value', readings: anchors(read(), 'frames.brood', '2'), value: 5 })
    const [undo] = made({ kind: 'undo', undoes: value!.id })
    const [redo] = made({ kind: 'undo', undoes: undo!.id })
    const left = (...list: Correction[]) => lines(applyCorrections(read(), list, text).record)
    expect(left(value!, undo!)).toEqual(before)
    expect(left(value!, undo!, redo!)).toContain('2 frames.brood 5 corrected')
  })
})

describe('a note that was edited', () => {
  const body = { kind: 'value' as const, readings: anchors(read(), 'frames.brood', '2'), value: 5 }
  const now = (words: string) => {
    const { record, orphaned } = applyCorrections(read(words), made(body), words)
    return {
      lines: lines(record),
      orphaned: orphaned.flatMap(({ readings }) => readings.map(({ words }) => words.quote)),
    }
  }
  test('the words are found again where they went', () => {
    const longer = `Sunny and warm today, sixteen degrees.\n${text}`
    expect(now(longer).lines).toContain('2 frames.brood 5 corrected')
    expect(now(longer).orphaned).toEqual([])
  })
  test('words that are gone leave the correction orphaned and all else as it is', () => {
    const other = 'Hive two. Saw eggs. Hive four. Six frames of brood, no eggs.'
    expect(now(other).orphaned).toEqual(['Six frames of brood'])
    expect(now(other).lines).toEqual(lines(read(other)))
  })
  test('the same words in another sentence are not taken for them', () => {
    const other = 'Hive four was weak, and then six frames of brood. Six frames of brood in a mate’s hive too.'
    expect(now(other).orphaned).toEqual(['Six frames of brood'])
  })
  test('a value denied is no other value denied that is read from the words now', () => {
    const readings = anchors(read(), 'frames.brood', '2').map((anchor) => ({ ...anchor, value: 9 }))
    const { record, orphaned } = applyCorrections(read(), made({ kind: 'withdraw', readings }), text)
    expect(orphaned).toHaveLength(1)
    expect(lines(record)).toEqual(lines(read()))
  })
  test('of two hives that one phrase speaks of, the other is never taken', () => {
    const both = 'Hive two. Queen seen. Hive three. Queen seen. Hives two and three have eggs.'
    const record = read(both)
    const two = anchors(record, 'eggs.present', '2', both)
    expect(two[0]?.twins).toBe(2)
    const gone = applyCorrections(record, made({ kind: 'withdraw', readings: two }), both).record
    const again = applyCorrections(gone, made({ kind: 'withdraw', readings: two }), both)
    expect(again.orphaned).toHaveLength(1)
    expect(lines(again.record)).toContain('3 eggs.present yes')
  })
})

describe('questions', () => {
  const text = readFileSync('fixtures/notes/2026-09-06-paddock.txt', 'utf8')
  const record = readNote(text, { name: 'note', date: '2026-09-06' })
  const questions = questionsFor(record, text)
  test('ask about every doubtful reading once and about no sure one', () => {
    const asked = questions.flatMap(({ rows }) => rows.flatMap(({ readings }) => readings)).sort()
    const doubtful = placedIn(record).flatMap(({ reading }) => (reading.flag === 'sure' ? [] : [reading.id]))
    expect(asked).toEqual(doubtful.sort())
    expect(asked.length).toBeGreaterThan(15)
  })
  test('those come first that could change a finding; each row begins with what was said', () => {
    const weights = questions.map(({ weight }) => weight)
    expect(weights).toEqual([...weights].sort((a, b) => b - a))
    for (const { rows, words } of questions) {
      expect(rows.length).toBeLessThanOrEqual(9)
      for (const row of rows) {
        expect(row.choices[0]).toEqual({ is: 'as said' })
        expect(row.choices.length).toBeLessThanOrEqual(9)
        expect(words.said).toContain(row.quote)
      }
    }
  })
  test('as said leaves nothing to ask', () => {
    const bodies = questions.flatMap((one) =>
      correctionsFrom(
        one,
        one.rows.map(() => ({ is: 'as said' })),
        record,
        text,
      ),
    )
    const after = applyCorrections(record, made(...bodies), text)
    expect(questionsFor(after.record, text)).toEqual([])
    expect(lines(after.record)).toEqual(lines(record))
  })
  test('a whole look at the wrong hive moves with one answer', () => {
    const look = questions.find(({ hive }) => hive === '2')!
    const body = wholeLookMoved(look, '5', record, text)
    const after = applyCorrections(record, made(...body), text).record
    const at = (hive: string) => flatten(after).filter((one) => one.hive === hive)
    expect(at('5').length).toBeGreaterThanOrEqual(look.rows.length)
    expect(at('2').length + at('5').length).toBe(flatten(record).filter(({ hive }) => hive === '2').length)
  })
})
