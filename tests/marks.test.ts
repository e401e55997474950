import fc from 'fast-check'
import { expect, test } from 'vitest'
import { readNote } from '../src/read-note.ts'
import type { InspectionRecord } from '../src/record/schema.ts'
import { openTranscript } from '../src/transcript/open.ts'
import { linesOf } from '../src/web/visit/marks.ts'

/** How the page cuts what was said into marked pieces: each line is covered once, whatever overlaps. */

const text = 'and the queen was on frame\nstores are low, calm bees'
const record = readNote('hive one, stores are low', { name: 'note', date: '2026-06-10' })
const [model] = record.hives[0]!.readings

/** A record with values and remarks at these places. */
function recordWith(values: readonly (readonly [number, number])[], remarks: readonly (readonly [number, number])[]) {
  const readings = values.map(([start, end]) => ({ ...model!, start, end, quote: text.slice(start, end) }))
  const account = remarks.map(([start, end]) => ({
    start,
    end,
    kind: 'remark' as const,
    standing: 'affirmed',
    readings: [],
  }))
  return { ...record, hives: [{ ...record.hives[0]!, readings }], account } as unknown as InspectionRecord
}

const span = fc
  .tuple(fc.nat(text.length - 1), fc.integer({ min: 1, max: 20 }))
  .map(([start, size]) => [start, Math.min(text.length, start + size)] as const)

test('every line is covered once, in order, by pieces of its own text', () => {
  const transcript = openTranscript(text, 'note')
  fc.assert(
    fc.property(fc.array(span, { maxLength: 6 }), fc.array(span, { maxLength: 6 }), (values, remarks) => {
      const sorted = [...remarks].sort((a, b) => a[0] - b[0])
      for (const { start, end, pieces } of linesOf(transcript, recordWith(values, sorted))) {
        expect(pieces.map((piece) => piece.text).join('')).toBe(text.slice(start, end))
        for (const piece of pieces) expect(text.slice(piece.start, piece.end)).toBe(piece.text)
      }
    }),
  )
})

test('a remark that runs into a value ends where the value begins', () => {
  const said = 'and the queen was on frame'
  const [line] = linesOf(openTranscript(said, 'note'), recordWith([[8, 20]], [[4, 13]]))
  expect(line!.pieces.map(({ text: words, is }) => [words, is])).toEqual([
    ['and ', null],
    ['the ', 'remark'],
    ['queen was on', model!.flag],
    [' frame', null],
  ])
})
