import { describe, expect, test } from 'vitest'
import { namedAt } from '../src/language/named.ts'
import { NO_CALL, type Word } from '../src/language/word.ts'
import { splitWords } from '../src/language/words.ts'
import { readNote } from '../src/read-note.ts'
import { flatten } from '../src/record/schema.ts'

/** Words of which some begin a name or go on with it. */
function words(text: string, odds: Readonly<Record<number, readonly [begins: number, goesOn: number]>>): Word[] {
  const list = splitWords(text, 0, text.length, { linesWrap: true })
  for (const [i, [begins, goesOn]] of Object.entries(odds))
    Object.assign(list[Number(i)]!, { calls: begins, callsOn: goesOn })
  return list
}

describe('words that may name a hive', () => {
  test('are those that begin a name and all that surely go on with it', () => {
    expect(namedAt(words('red door five seams', { 0: [1, NO_CALL], 1: [NO_CALL, 2] }), 0)).toEqual([
      { to: 2, label: 'red door' },
    ])
  })
  test('are as many as may be where it is not sure that a word goes on', () => {
    expect(namedAt(words('red door five seams', { 0: [1, NO_CALL], 1: [NO_CALL, 0] }), 0)).toEqual([
      { to: 1, label: 'red' },
      { to: 2, label: 'red door' },
    ])
  })
  test.each([
    ['charlie two ten frames', 2, 'charlie 2'],
    ['a eight is next', 2, 'a8'],
    ['two b is empty', 2, '2b'],
    ['stand two b is empty', 3, 'stand 2b'],
    ['catch box twenty three', 4, 'catch box 23'],
    ["dad's is next", 2, "dad's"],
  ])('%s: labelled as they are said', (text, to, label) => {
    const odds = Object.fromEntries(Array.from({ length: to }, (_, i) => [i, i === 0 ? [2, NO_CALL] : [NO_CALL, 2]]))
    expect(namedAt(words(text, odds as Record<number, [number, number]>), 0)).toEqual([{ to, label }])
  })
  test('are none where no name begins, behind a full stop, or where they are but a number', () => {
    expect(namedAt(words('red door', {}), 0)).toEqual([])
    expect(namedAt(words('Red. Door.', { 0: [1, NO_CALL], 1: [NO_CALL, 3] }), 0)).toEqual([{ to: 1, label: 'red' }])
    expect(namedAt(words('seven has eggs', { 0: [3, NO_CALL] }), 0)).toEqual([])
  })
})

/** Notes of our own by nobody who is learned from: hives go by names that no list knows. */
test.each([
  [
    'red door is first lid off bees up on eight of the ten frames nice tight brood eggs in the bottoms close her up next along is old post three of brood in a poor pattern two frames of stores',
    ['red door', 'old post'],
  ],
  [
    'right saffron first seven seams and eggs then marmalade five seams no eggs and last one nutmeg eight seams queen seen',
    ['marmalade', 'nutmeg', 'saffron'],
  ],
])('hives are told by their place in the talk: %s', (text, hives) => {
  const found = flatten(readNote(text, { name: 'note', date: '2026-05-20' }))
  expect(
    [...new Set(found.filter(({ field }) => !/^(visit|weather)/.test(field)).map(({ hive }) => hive))].sort(),
  ).toEqual([...hives].sort())
})
