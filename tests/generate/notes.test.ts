import { mkdtempSync, readdirSync, rmSync, statSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, expect, test } from 'vitest'
import { readNote } from '../../src/read-note.ts'
import { fieldInfo } from '../../src/record/fields.ts'
import { flatten } from '../../src/record/schema.ts'
import { openTranscript } from '../../src/transcript/open.ts'
// @ts-expect-error: development tools are plain JavaScript
import { rates, scoreReadings } from '../tools/score-readings.mjs'
import { generatedNotes } from './notes.ts'
import { VOICES } from './voices.ts'
import { fileText, writeNotes } from './write.ts'

const folder = mkdtempSync(join(tmpdir(), 'combscribe-generated-'))
afterAll(() => rmSync(folder, { recursive: true, force: true }))
const notes = [...generatedNotes(200)]

test('the same seed gives the same notes, another one others', () => {
  expect([...generatedNotes(50)]).toEqual(notes.slice(0, 50))
  expect([...generatedNotes(50, 'other')].map(({ text }) => text)).not.toEqual(
    notes.slice(0, 50).map(({ text }) => text),
  )
  expect(new Set(notes.map(({ note }) => note)).size).toBe(notes.length)
})

test('labels are of known fields and values, and their words stand in the note', () => {
  for (const { text, facts, optional } of notes) {
    for (const { field, value, quote } of [...facts, ...optional]) {
      const info = fieldInfo(field)
      expect(info, field).toBeDefined()
      if (info!.words) expect(info!.words, field).toContain(value)
      if (info!.type === 'number') expect(typeof value, field).toBe('number')
      expect(text.toLowerCase()).toContain(quote.toLowerCase())
    }
  }
})

test('many voices, hives, months and fields', () => {
  const facts = notes.flatMap((note) => note.facts)
  expect(new Set(notes.map(({ style }) => style)).size).toBe(VOICES.length)
  expect(new Set(notes.map(({ date }) => date.slice(5, 7))).size).toBeGreaterThanOrEqual(6)
  expect(new Set(facts.map(({ hive }) => hive)).size).toBeGreaterThanOrEqual(20)
  expect(new Set(facts.map(({ field }) => field)).size).toBeGreaterThan(35)
  expect(new Set(notes.map(({ ending }) => ending))).toEqual(new Set(['txt', 'srt']))
})

test('they are read well: everything is said in known words', () => {
  const some = notes.slice(0, 50)
  const readings = new Map(
    some.map((note) => {
      const transcript = openTranscript(fileText(note), note.note)
      return [note.note, flatten(readNote(transcript, { name: note.note, date: note.date }))]
    }),
  )
  const gold = some.map(({ note, facts, optional }) => ({ note, facts, optional }))
  expect(rates(scoreReadings(gold, readings).total).f1).toBeGreaterThan(0.88)
}, 60_000)

test('files bear the time of their visit', () => {
  writeNotes(folder, 30)
  const files = readdirSync(folder, { recursive: true, encoding: 'utf8' }).filter((file) => /\.(txt|srt)$/.test(file))
  expect(files.length).toBe(30)
  for (const file of files) {
    const month = /memo-\d+-(\d\d)(\d\d)/.exec(file)
    if (month) expect(statSync(join(folder, file)).mtime.getMonth() + 1).toBe(Number(month[1]))
  }
})
