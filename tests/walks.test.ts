import { readdirSync, readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { readNote } from '../src/read-note.ts'
import { flatten } from '../src/record/schema.ts'
// @ts-expect-error tools are plain modules
import { bare } from './tools/labelled.mjs'
// @ts-expect-error tools are plain modules
import { rates, scoreReadings } from './tools/score-readings.mjs'

/** Walks over the frames of one hive (`fixtures/own/w`). Those whose number three divides are only counted. */
const FOLDER = new URL('../fixtures/own/w/', import.meta.url)

const golds = readdirSync(FOLDER)
  .filter((file) => file.endsWith('.gold.json'))
  .map((file) => ({ ...JSON.parse(readFileSync(new URL(file, FOLDER), 'utf8')), note: file.replace('.gold.json', '') }))

function read(which: (number: number) => boolean, form: (text: string) => string) {
  const some = golds.filter(({ note }) => which(Number(note.split('-')[1])))
  const readings = some.map(({ note, date }) => {
    const text = form(readFileSync(new URL(`${note}.txt`, FOLDER), 'utf8'))
    // which hive it is, is not the matter here
    return [note, flatten(readNote(text, { name: note, date })).map((r) => ({ ...r, hive: '' }))] as const
  })
  const { total, placement } = scoreReadings(some, new Map(readings))
  return { ...rates(total), placed: placement.right / placement.of }
}

describe('walks over the frames of a hive', { timeout: 60_000 }, () => {
  test.each([
    [
      'that are worked with, as written',
      (n: number) => n % 3 !== 0,
      (text: string) => text,
      { f1: 0.86, precision: 0.92, placed: 0.89 },
    ],
    [
      'that are worked with, without punctuation',
      (n: number) => n % 3 !== 0,
      bare,
      { f1: 0.84, precision: 0.9, placed: 0.83 },
    ],
    [
      'that are kept out, as written',
      (n: number) => n % 3 === 0,
      (text: string) => text,
      { f1: 0.89, precision: 0.93, placed: 0.87 },
    ],
    [
      'that are kept out, without punctuation',
      (n: number) => n % 3 === 0,
      bare,
      { f1: 0.84, precision: 0.93, placed: 0.85 },
    ],
  ] as const)('notes %s', (_, which, form, bar) => {
    const { f1, precision, placed } = read(which, form)
    expect(f1).toBeGreaterThan(bar.f1)
    expect(precision).toBeGreaterThan(bar.precision)
    expect(placed).toBeGreaterThan(bar.placed)
  })
})
