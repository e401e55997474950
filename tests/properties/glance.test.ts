import { describe, expect, test } from 'vitest'
import type { Utterance } from '../../src/language/word.ts'
import { createReader, type Reader, utterancesOf } from '../../src/read.ts'
import { notes } from './notes.ts'

/** Reading in slices of no time at all: an utterance each. */
function caughtUp(reader: Reader): Reader {
  while (!reader.catchUp(0));
  return reader
}

/** Every hive as a glance shows it, against the whole record of a reader that never glanced. */
function compare(reader: Reader, whole: Reader): void {
  const { visit, hives, date } = whole.record()
  for (const hive of new Set(['', ...hives.map((one) => one.hive)])) {
    const seen = reader.glance(hive)
    expect(seen.hives).toEqual(hives.filter((one) => one.hive === hive))
    expect(seen.visit).toEqual(visit)
    expect(seen.date).toBe(date)
  }
}

// two notes in five: each is read dozens of times over
describe.each(notes.filter((_, i) => i % 5 < 2))('$name', ({ name, date, transcript }) => {
  const utterances = utterancesOf(transcript)
  const some = Math.max(1, Math.floor(utterances.length / 5))
  const readerOf = (heard: readonly Utterance[]): Reader => {
    const reader = createReader(transcript, { name, date })
    for (const utterance of heard) reader.hear(utterance)
    return reader
  }

  test('after catching up, a glance at any hive shows what the whole record has', () => {
    const reader = createReader(transcript, { name, date })
    utterances.forEach((utterance, i) => {
      reader.hear(utterance)
      reader.glance()
      if (i % 3 === 0) reader.catchUp(0)
      if (i % some === some - 1) compare(caughtUp(reader), readerOf(utterances.slice(0, i + 1)))
    })
    expect(reader.record()).toEqual(readerOf(utterances).record())
    compare(reader, readerOf(utterances))
  })

  test('what is unheard leaves no trace', () => {
    const reader = createReader(transcript, { name, date })
    utterances.forEach((utterance, i) => {
      if (i % 4 === 0) {
        // the recogniser first gives something else from the same note, then takes it back
        reader.mark()
        for (const other of utterances.slice(i + 1, i + 3)) reader.hear(other)
        reader.glance()
        if (i % 8 === 0) reader.catchUp(0)
        reader.rewind()
      }
      reader.hear(utterance)
      reader.glance()
    })
    compare(caughtUp(reader), readerOf(utterances))
    expect(reader.record()).toEqual(readerOf(utterances).record())
  })
})
