import { expect, test } from 'vitest'
import { readNote } from '../src/read-note.ts'
import { placedReadings } from '../src/record/schema.ts'

const clear =
  'Hive two. Queen seen, eggs and larvae on four frames. Six frames of brood, nice solid pattern. No queen cells. Two frames of honey. Bees calm. Put a super on. '
const misheard =
  'scientists on the of jersey. dignity was splendid and we displayed it at victory. the a foreigner had teddy with attitude in tennessee. '
const confidenceOf = (text: string, field: string): number =>
  placedReadings(readNote(text, { name: 'note', date: '2026-05-20' })).find(({ reading }) => reading.field === field)!
    .reading.confidence

test.each(['frames.brood', 'queenCells.present', 'temperament'])(
  '%s is less sure in a note in which much was misheard',
  (field) => {
    const mixed = clear + misheard.repeat(3)
    expect(confidenceOf(mixed, field)).toBeLessThan(confidenceOf(clear, field) - 0.1)
    expect(
      placedReadings(readNote(mixed, { name: 'note', date: '2026-05-20' })).filter(
        ({ reading }) => reading.flag === 'sure',
      ),
    ).toEqual([])
  },
)
test('a clear note loses nothing', () => {
  const [reading] = placedReadings(readNote(clear, { name: 'note', date: '2026-05-20' }))
  expect(reading!.reading.features).not.toHaveProperty('noteStrange')
})
