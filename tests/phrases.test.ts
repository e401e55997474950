import { readdirSync, readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { readNote } from '../src/read-note.ts'
import { flatten } from '../src/record/schema.ts'
import { factsRead, type PhraseLine, phraseLines } from './phrases.ts'

const DIR = 'fixtures/phrases'
const VISIT = '2026-06-10'

const read = ({ said, facts }: PhraseLine): string[] =>
  factsRead(flatten(readNote(said, { name: 'phrase', date: VISIT })), facts)

const tables = readdirSync(DIR).filter((file) => file.endsWith('.txt') && file !== 'backlog.txt')
const backlog = phraseLines(readFileSync(`${DIR}/backlog.txt`, 'utf8'))
const waiting = new Set(backlog.map((line) => line.said))

describe.each(tables)('%s', (file) => {
  const lines = phraseLines(readFileSync(`${DIR}/${file}`, 'utf8')).filter((line) => !waiting.has(line.said))
  test.each(lines)('$said', (line) => {
    expect(read(line)).toEqual(line.facts)
  })
})

describe('phrases known to be misread, to be struck off backlog.txt once they are read right', () => {
  test('stand in a table', () => {
    const known = new Set(
      tables.flatMap((file) => phraseLines(readFileSync(`${DIR}/${file}`, 'utf8')).map((l) => l.said)),
    )
    expect(backlog.filter((line) => !known.has(line.said))).toEqual([])
  })

  test.each(backlog)('$said', (line) => {
    expect(read(line)).not.toEqual(line.facts)
  })
})
