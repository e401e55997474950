import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { createReader, utterancesOf } from '../../src/read.ts'
import { readNote } from '../../src/read-note.ts'
import { openTranscript } from '../../src/transcript/open.ts'
import { checkRecord } from './check-record.ts'
import { mixture, notes, sentences } from './notes.ts'

/** Promises of the reader for labelled notes. A fixed seed, so that the gate repeats. */
const runs = (numRuns: number) => ({ seed: 1, numRuns })

test('there are notes to look at', () => {
  expect(notes.length).toBeGreaterThan(40)
  expect(sentences.length).toBeGreaterThan(1000)
})

describe.each(notes.map((note) => [note.name, note] as const))('%s', (_, { name, date, transcript }) => {
  const whole = readNote(transcript, { name, date })

  test('its record keeps its promises', () => checkRecord(whole, transcript))

  test('heard piece by piece it gives the same record', () => {
    const reader = createReader(transcript, { name, date })
    utterancesOf(transcript).forEach((utterance, i) => {
      reader.hear(utterance)
      // asking in between must leave no trace
      if (i % 7 === 0) reader.record()
    })
    expect(reader.record()).toEqual(whole)
  })
})

test('at any cut the record is that of a reader which heard no more', () => {
  const anyCut = fc
    .tuple(fc.constantFrom(...notes), fc.double({ min: 0, max: 1, noNaN: true }))
    .map(([note, share]) => {
      const utterances = utterancesOf(note.transcript)
      return { note, heard: utterances.slice(0, Math.round(share * utterances.length)) }
    })
  fc.assert(
    fc.property(anyCut, ({ note: { name, date, transcript }, heard }) => {
      const asked = createReader(transcript, { name, date })
      const quiet = createReader(transcript, { name, date })
      heard.forEach((utterance, i) => {
        asked.hear(utterance)
        quiet.hear(utterance)
        if (i % 3 === 0) asked.record()
      })
      const record = asked.record()
      expect(record).toEqual(quiet.record())
      checkRecord(record, transcript)
    }),
    runs(40),
  )
}, 120_000)

test('sentences of several notes in any order', () => {
  fc.assert(
    fc.property(mixture, (text) => {
      const transcript = openTranscript(text, 'note')
      checkRecord(readNote(transcript, { name: 'note', date: '2026-05-20' }), transcript)
    }),
    runs(150),
  )
}, 120_000)
