import { describe, expect, test } from 'vitest'
import { createReader, utterancesOf } from '../../src/read.ts'
import { notes } from './notes.ts'

describe('a glance at a hive while a note is being spoken', () => {
  test.each(notes)('$name: has what the whole record has', ({ name, date, transcript }) => {
    const reader = createReader(transcript, { name, date })
    const utterances = utterancesOf(transcript)
    const often = Math.max(1, Math.floor(utterances.length / 6))
    utterances.forEach((utterance, i) => {
      reader.hear(utterance)
      reader.glance()
      if (i % often !== 0 && i < utterances.length - 1) return
      const { visit, hives, date } = reader.record()
      for (const hive of new Set(['', ...reader.hives()])) {
        const seen = reader.glance(hive)
        expect(seen.hives).toEqual(hives.filter((one) => one.hive === hive))
        expect(seen.visit).toEqual(visit)
        expect(seen.date).toBe(date)
      }
    })
  })
})
