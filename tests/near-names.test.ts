import { describe, expect, test } from 'vitest'
import { readNote } from '../src/read-note.ts'
import { flatten } from '../src/record/schema.ts'

const yard = { hives: [{ name: 'Pelargon' }, { name: 'Bramley' }, { name: 'Elm' }] }
const hivesOf = (note: string): string[] => [
  ...new Set(flatten(readNote(note, { name: 'n', date: '2026-06-06', yard })).map((r) => r.hive)),
]

describe('names of the yard file that the recogniser nearly got', () => {
  test.each([
    ['Pelargun first. Six frames of brood, eggs seen. Then Bramley. Four frames of brood.', ['pelargon', 'bramley']],
    ['This is Bramly. Eggs seen. No queen cells.', ['bramley']],
    ['on to pelargin six seams of bees', ['pelargon']],
  ])('%s', (note, hives) => expect(hivesOf(note)).toEqual(hives))

  test('an ordinary word is no name', () => {
    expect(
      hivesOf('Bramley. Eggs seen. The ramble of them, elms and all, brambles too. Four frames of brood.'),
    ).toEqual(['bramley'])
  })
})
