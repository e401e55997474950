import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { readNote } from '../src/read-note.ts'
import { flatten } from '../src/record/schema.ts'
import { parseYard, readerHints } from '../src/yard.ts'

const fault = (text: string): string => {
  try {
    parseYard(text, 'yard.json')
  } catch (error) {
    return (error as Error).message
  }
  return 'read without a complaint'
}

describe('a yard file', () => {
  test('may be empty of everything', () => {
    expect(parseYard('{}', 'yard.json')).toEqual({})
  })

  test('may hold comments, trailing commas and a byte order mark', () => {
    const yard = parseYard(
      '\uFEFF{\n // the blue one\n "hives": [{ "label": "blue", "said": ["blew"], },], /* end */ }',
      'y',
    )
    expect(yard.hives).toEqual([{ label: 'blue', said: ['blew'] }])
  })

  test('of the demo season is sound', () => {
    const yard = parseYard(readFileSync('fixtures/notes/yard.json', 'utf8'), 'yard.json')
    expect(yard.hives?.map((hive) => hive.label)).toEqual(['1', '2', 'olive'])
    expect(yard.region?.hemisphere).toBe('south')
  })

  test('gives the reader its names, and no bare number for one', () => {
    const yard = parseYard('{"hives": [{"label": "2"}, {"label": "olive", "name": "Olive", "said": ["all of"]}]}', 'y')
    expect(readerHints(yard).hives).toEqual([{ name: 'olive', said: ['Olive', 'all of'] }])
  })
})

describe('own words reach the reader', () => {
  const read = (text: string, yard: string) =>
    flatten(readNote(text, { name: 'note', date: '2026-05-04', yard: readerHints(parseYard(yard, 'y')) })).map(
      ({ hive, field, value, quote }) => [`${hive} ${field} ${value}`, quote],
    )
  const words = '{"words": {"the muffin box": "the feeder", "blotter": "beetle trap", "plates": "frames"}}'

  test('as what they stand for, quoted as they were said', () => {
    expect(read('Hive two. I put a blotter in.', '{}')).toEqual([])
    expect(read('Hive two. I put a blotter in.', words)).toEqual([['2 did.addTrap yes', 'put a blotter in']])
    expect(read('Hive two. Put the muffin box on.', words)).toEqual([['2 did.feed yes', 'Put the muffin box on']])
    expect(read('Hive two. Four plates of honey.', words)).toEqual([['2 frames.honey 4', 'Four plates of honey']])
  })
  test('whatever marks and capitals they are written with; nothing else is touched by them', () => {
    const odd = '{"words": {"The Girls\u2019 (blue) fridge/": "top super", "?": "queen", "<n>": "queen"}}'
    expect(() => read('Hive two. Queen seen. 5 frames of brood?', odd)).not.toThrow()
    expect(read('Hive two. Queen seen. 5 frames of brood?', odd)).toEqual(
      read('Hive two. Queen seen. 5 frames of brood?', '{}'),
    )
  })
  test('a name by which a numbered hive is heard', () => {
    const yard = '{"hives": [{"label": "2", "name": "hive two", "said": ["hive true"]}]}'
    expect(read('Hive one. Queen seen. Hive true. Four frames of brood.', yard)).toEqual([
      ['1 queen.seen yes', 'Queen seen'],
      ['2 frames.brood 4', 'Four frames of brood'],
    ])
  })
})

describe('a faulty yard file is answered by one sentence with file and line', () => {
  test.each([
    [
      'a missing comma',
      '{\n "hives": []\n "region": {}\n}',
      /^yard\.json:3: not readable as JSON \(comma expected\); .*\.$/,
    ],
    ['nothing at all', '', /^yard\.json:1: not readable as JSON .*\.$/],
    ['cut off in the middle', '{\n "hives": [', /^yard\.json:2: not readable/],
    ['an unknown entry', '{\n\n "bees": 4 }', /^yard\.json:3: unrecognized key: "bees"; /],
    ['a wrong word', '{ "region": {\n "hemisphere": "up" } }', /^yard\.json:2: region\.hemisphere: .*"north"\|"south"/],
    [
      'a capital in a label',
      '{ "hives": [\n { "label": "Olive" } ] }',
      /^yard\.json:2: hives\.0\.label: write the label in lower/,
    ],
    ['a hive with no label', '{ "hives": [\n { "name": "Olive" } ] }', /^yard\.json:2: hives\.0\.label: /],
    ['an entry twice', '{ "words": { "a": "b",\n "a": "c" } }', /^yard\.json:2: "a" is written twice; /],
    [
      'a name two hives share',
      '{"hives": [{"label": "1"},\n{"label": "2", "said": ["1"]}]}',
      /^yard\.json:2: "1" stands for both hive 1/,
    ],
    ['an unknown rule setting', '{ "rules": {\n "honeyStandart": "eu" } }', /^yard\.json:2: rules: unrecognized key/],
    ['a list instead of an object', '[]', /^yard\.json:1: /],
  ])('%s', (_, text, sentence) => {
    expect(fault(text)).toMatch(sentence)
  })
})
