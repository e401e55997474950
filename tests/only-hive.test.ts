import { describe, expect, test } from 'vitest'
import { readNote } from '../src/read-note.ts'
import { flatten } from '../src/record/schema.ts'

/** A keeper with one hive to see to often says which only when the lid is on again. */
const hivesOf = (said: string) => {
  const readings = flatten(readNote(said, { name: 'only', date: '2026-06-03' }))
  return [...new Set(readings.filter(({ field }) => !/^(visit|weather)\./.test(field)).map(({ hive }) => hive))]
}

describe('what was said before the only hive was called is of that hive', () => {
  test.each([
    ['Bees on six frames, saw eggs and the queen. No cells. Two frames of honey. So that was the cedar hive.', 'cedar'],
    ['Seven frames of brood, eggs in two of them, calm as anything. That was hive nine.', '9'],
    ['Saw the queen, marked blue. Brood on five frames. Back to work. That was hive four.', '4'],
    ['Six seams of bees and a good pattern. Put the lid on. That was hive twelve, by the way.', '12'],
    ['Saw eggs and the queen. Four frames of brood. Right, that was the red hive.', 'red'],
  ])('%s', (said, hive) => {
    expect(hivesOf(said)).toEqual([hive])
  })
})

test('with two hives called, what was said before them is of neither', () => {
  const said = 'Saw eggs and brood on five frames. Hive two. Six frames of bees. Hive three. Four frames of bees.'
  const readings = flatten(readNote(said, { name: 'two', date: '2026-06-03' }))
  expect(readings.filter(({ field }) => field === 'eggs.present').map(({ hive }) => hive)).not.toContain('2')
  expect(readings.filter(({ field }) => field === 'frames.bees').map(({ hive }) => hive)).toEqual(['2', '3'])
})

test('"next, hive four" tells that there was another before it', () => {
  const said = 'Starting at the tree. Bees on eight frames, saw eggs. Next, hive four. Two frames of brood.'
  const readings = flatten(readNote(said, { name: 'next', date: '2026-06-03' }))
  expect(readings.find(({ field }) => field === 'frames.bees')?.hive).not.toBe('4')
  expect(readings.find(({ field }) => field === 'frames.brood')?.hive).toBe('4')
})

test('the day and what is to be bought are of no hive', () => {
  const said = 'Twenty degrees and sunny. I need to order more foundation. Saw eggs. That was hive nine.'
  const readings = flatten(readNote(said, { name: 'day', date: '2026-06-03' }))
  expect(readings.find(({ field }) => field === 'weather.temperature')?.hive).toBeFalsy()
  expect(readings.find(({ field }) => field === 'todo.order')?.hive).toBeFalsy()
  expect(readings.find(({ field }) => field === 'eggs.present')?.hive).toBe('9')
})
