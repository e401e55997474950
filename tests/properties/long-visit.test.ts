import { describe, expect, test } from 'vitest'
import type { Utterance } from '../../src/language/word.ts'
import { createReader, type Reader, utterancesOf } from '../../src/read.ts'
import { openTranscript } from '../../src/transcript/open.ts'
import { notes } from './notes.ts'

/**
 * A visit so long that what was called at its beginning is settled before it ends: hearing it utterance by utterance, with
 * looks, pauses and revised words in between, must come to the record of who hears it whole.
 */
const date = '2026-05-20'
const plain = notes.filter(({ transcript }) => transcript.format === 'plain')

/** Several notes one behind the other: from one yard to the next, so that much is learned late. */
const visits = [0, 1].map((first) => {
  const texts = plain.filter((_, i) => i % 9 === first * 2).map(({ transcript }) => transcript.text.trim())
  return openTranscript(texts.slice(0, 5).join('\n\n'), 'visit')
})

describe.each(visits.map((transcript, i) => [i + 1, transcript] as const))('visit %i', (_, transcript) => {
  const utterances = utterancesOf(transcript)
  const fresh = (heard: readonly Utterance[]): Reader => {
    const reader = createReader(transcript, { name: 'visit', date })
    for (const utterance of heard) reader.hear(utterance)
    return reader
  }

  test('it is long enough to have something settled', () => expect(utterances.length).toBeGreaterThan(60))

  test('heard with looks and pauses it gives the record of the whole', () => {
    const reader = createReader(transcript, { name: 'visit', date })
    utterances.forEach((utterance, i) => {
      reader.mark()
      reader.hear(utterance)
      reader.touched()
      reader.glance()
      // pauses too short for all that is put off, and one that is long enough
      if (i % 11 === 0) reader.catchUp(0)
      if (i === 57) {
        while (!reader.catchUp(0));
        const { visit, hives } = fresh(utterances.slice(0, i + 1)).record()
        for (const hive of hives) expect(reader.glance(hive.hive).hives).toEqual([hive])
        expect(reader.glance().visit).toEqual(visit)
      }
    })
    expect(reader.record()).toEqual(fresh(utterances).record())
  }, 120_000)

  test('words that are said otherwise leave no trace', () => {
    const reader = createReader(transcript, { name: 'visit', date })
    utterances.forEach((utterance, i) => {
      reader.mark()
      if (i % 6 === 5) {
        for (const other of utterances.slice(i + 1, i + 3)) reader.hear(other)
        reader.touched()
        reader.glance()
        if (i % 4 === 1) reader.catchUp(1)
        reader.rewind()
      }
      reader.hear(utterance)
      reader.glance()
    })
    expect(reader.record()).toEqual(fresh(utterances).record())
  }, 120_000)
})
