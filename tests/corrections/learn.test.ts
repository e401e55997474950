import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { added } from '../../src/corrections/answer.ts'
import { applyCorrections } from '../../src/corrections/apply.ts'
import { type Correction, type CorrectionBody, stamped } from '../../src/corrections/correction.ts'
import { type CorrectedNote, type LearnOptions, type Lesson, proposalsFrom } from '../../src/corrections/learn.ts'
import { lessonsIn, taught } from '../../src/corrections/teach.ts'
import { readNote } from '../../src/read-note.ts'
import { flatten } from '../../src/record/schema.ts'
import { parseYard, readerHints } from '../../src/yard.ts'

/** A yard file's text with some lessons, as the reader is told of it. */
const hints = (lessons: readonly Lesson[]) =>
  readerHints(
    parseYard(
      lessons.reduce((text, one) => taught(text, one), '{}'),
      'yard.json',
    ),
  )
// by the lines of the grammar alone: what was learned of clauses tells many an odd word by those around it
const options: LearnOptions = {
  tryOn: (words, lessons) => readNote(words, { name: 'words', yard: hints(lessons), clauses: null }),
  terms: ['frames', 'brood', 'queen', 'bees', 'honey', 'eggs', 'super', 'feeder', 'combs', 'beetle trap'],
  isTradeWord: (word) => ['brood', 'honey', 'queen', 'eggs'].includes(word),
}
let n = 0
function note(text: string, ...bodies: CorrectionBody[]): CorrectedNote {
  const read = (lessons: readonly Lesson[]) =>
    readNote(text, { name: 'note', date: '2026-05-04', yard: hints(lessons), clauses: null })
  const corrections: Correction[] = bodies.map((body) =>
    stamped(body, { id: `c${n++}`, at: '2026-05-04T20:00:00Z', who: 'ann' }),
  )
  return { text, corrections, corrected: applyCorrections(read([]), corrections, text).record, read }
}
const missed = (text: string, quote: string, field: string, value: string | number, hive: string) => {
  const start = text.indexOf(quote)
  return added(text, { start, end: start + quote.length }, field, value, { hive, box: null, frame: null, side: null })
}
const words = (lesson: Lesson) =>
  lesson.is === 'word' ? `${lesson.said} = ${lesson.means}` : `${lesson.said} is ${lesson.label}`

describe('what corrections teach', () => {
  const said = 'Hive two. Five pleats of honey. Queen seen.'
  const five = missed(said, 'Five pleats of honey', 'frames.honey', 5, '2')

  test('a habit or a mishearing: the term that makes the reader read what the keeper said', () => {
    const [first, ...rest] = proposalsFrom([note(said, five)], options)
    expect(words(first!.lesson)).toBe('pleats = frames')
    expect(first!.after).toBeGreaterThan(first!.before)
    expect(rest).toEqual([])
    expect(
      flatten(readNote('Hive four. Two pleats of honey.', { name: 'next', yard: hints([first!.lesson]) })),
    ).toEqual([expect.objectContaining({ hive: '4', field: 'frames.honey', value: 2 })])
  })

  test('never what makes another of the corrected notes worse', () => {
    // Here "pleats" means something else: as frames it would invent a count.
    const other = note('Hive six. Two pleats of honey coloured cloth lie under the lid.')
    expect(flatten(other.read([{ is: 'word', said: 'pleats', means: 'frames' }])).length).toBeGreaterThan(
      flatten(other.read([])).length,
    )
    expect(proposalsFrom([note(said, five), other], options)).toEqual([])
  })

  test('nothing that the yard file holds, nothing from what was undone, nothing from a note that is right', () => {
    expect(
      proposalsFrom([note(said, five)], { ...options, known: [{ is: 'word', said: 'pleats', means: 'frames' }] }).map(
        ({ lesson }) => words(lesson),
      ),
    ).not.toContain('pleats = frames')
    const undone = note(said, five)
    const undo = stamped(
      { kind: 'undo', undoes: undone.corrections[0]!.id },
      { id: 'u', at: '2026-05-04T21:00', who: 'ann' },
    )
    expect(proposalsFrom([{ ...undone, corrections: [...undone.corrections, undo] }], options)).toEqual([])
    expect(proposalsFrom([note(said)], options)).toEqual([])
  })

  test('two labels that were one hive: its other name', () => {
    const text = 'Olive. Four frames of brood. Dandelion. Eggs. Queen seen. Four frames of bees in Dandelion.'
    const merge: CorrectionBody = { kind: 'merge', from: 'dandelion', into: 'olive' }
    const [first] = proposalsFrom([note(text, merge)], options)
    expect(words(first!.lesson)).toBe('dandelion is olive')
  })
})

describe('a line in the yard file', () => {
  const yard = readFileSync('fixtures/notes/yard.json', 'utf8')
  const lesson: Lesson = { is: 'word', said: 'plates', means: 'frames' }

  test('is the only thing that changes', () => {
    const fresh = taught(yard, lesson)
    expect(fresh.split('\n').filter((line) => !yard.split('\n').includes(line))).toEqual(['    "plates": "frames",'])
    expect(parseYard(fresh, 'y')).toEqual({
      ...parseYard(yard, 'y'),
      words: { ...parseYard(yard, 'y').words, plates: 'frames' },
    })
    const named = taught(yard, { is: 'hive', said: 'hive true', label: '2' })
    expect(named.split('\n').filter((line) => !yard.split('\n').includes(line))).toEqual([
      '    { "label": "2", "name": "hive two", "said": ["hive true"] },',
    ])
  })
  test.each([
    '',
    '{}',
    '{\n}\n',
    '{ "words": {} }',
    '{ "words": { "a": "b" } // own\n}',
    '{\r\n  "hives": [],\r\n}\r\n',
    '// all of it\n{ "hives": [{ "label": "2" }], }',
  ])('reads back from %j, and said twice stands there once', (text) => {
    for (const one of [
      lesson,
      { is: 'hive', said: 'true', label: '2' },
      { is: 'hive', said: 'all of', label: 'olive' },
    ] satisfies Lesson[]) {
      const fresh = taught(text, one)
      expect(lessonsIn(parseYard(fresh, 'y'))).toContainEqual(one)
      expect(taught(fresh, one)).toBe(fresh)
      for (const comment of text.match(/\/\/[^\n]*/g) ?? []) expect(fresh).toContain(comment)
    }
  })
})
