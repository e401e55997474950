import { readFileSync } from 'node:fs'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { english, englishVocabulary } from '../src/grammar/english.ts'
import { splitUtterances } from '../src/language/utterances.ts'
import type { Word } from '../src/language/word.ts'
import { readNote } from '../src/read-note.ts'
import { placedReadings } from '../src/record/schema.ts'
import { why } from '../src/report/why.ts'
import { openTranscript } from '../src/transcript/open.ts'
// @ts-expect-error tools are plain modules
import { noisyChannel } from './tools/noise.mjs'

/** Words that were misheard and are put right by sound and by what is said around them. */
const wordsOf = (text: string): Word[] =>
  splitUtterances(openTranscript(text, 'note'), english(), null).flatMap(({ words }) => words)
const understood = (text: string): string =>
  wordsOf(text)
    .map(({ norm }) => norm)
    .filter(Boolean)
    .join(' ')
const mended = (text: string): Word[] => wordsOf(text).filter(({ by }) => by === 'sound')
const read = (text: string) => readNote(text, { name: 'note', date: '2026-06-10' })

const lines = readFileSync(new URL('../fixtures/speech/misheard.txt', import.meta.url), 'utf8')
  .split('\n')
  .filter((line) => line !== '' && !line.startsWith('#'))
  .map((line) => line.split(' => ') as [heard: string, meant: string])

describe('what was misheard', () => {
  const wrong = lines.filter(([, meant]) => meant !== '=')
  test('the table has forty of them', () => expect(wrong.length).toBeGreaterThanOrEqual(40))
  test.each(wrong)('%s => %s', (heard, meant) => expect(understood(heard)).toBe(meant))
})

describe('what was not', () => {
  const right = lines.filter(([, meant]) => meant === '=')
  test('the table has twenty of them', () => expect(right.length).toBeGreaterThanOrEqual(20))
  test.each(right)('%s', (heard) => expect(mended(heard).map(({ said, norm }) => `${said} → ${norm}`)).toEqual([]))
})

describe('a repair', () => {
  const note = 'Hive two. Seven frames of bread and two frames of honey.'
  test('keeps the exact words as its quote, and says what they were taken for', () => {
    const record = read(note)
    const brood = placedReadings(record).find(({ reading }) => reading.field === 'frames.brood')!.reading
    expect(brood.value).toBe(7)
    expect(brood.quote).toBe('Seven frames of bread')
    expect(brood.evidence[0]!.taken).toBe('seven frames of brood')
    expect(why(record, 'frames.brood', { width: 200, colour: false })).toContain(
      '“Seven frames of bread” taken for “seven frames of brood”',
    )
  })
  test('is never sure', () => {
    const clear = placedReadings(read(note.replace('bread', 'brood'))).find((x) => x.reading.field === 'frames.brood')!
    const brood = placedReadings(read(note)).find((x) => x.reading.field === 'frames.brood')!
    expect(brood.reading.flag).not.toBe('sure')
    expect(brood.reading.confidence).toBeLessThan(clear.reading.confidence)
    expect(brood.reading.features.repair).toBeGreaterThan(0)
  })
})

const { common } = englishVocabulary()
const everyday = [...common]
const noise: (text: string, rate: number, seed: string) => string = noisyChannel(new URL('../', import.meta.url))
const said =
  'Hive one. Six frames of brood, eggs and larvae. No queen cells. Hive two. Queen not seen, four frames of capped brood, two supers on. Bees calm.'
const DENIAL = /^(no|not|never|none|nothing|nobody|without|queenless|queenright|unmarked|uncapped)$/

test('a measured mishearing of a denial is no denial', () => {
  expect(mended('Hive two. Six frames of brood. nope queen cells.').map(({ norm }) => norm)).not.toContain('no')
})

describe('whatever the words', () => {
  test('ordinary English gives no sure value by a repair', () => {
    fc.assert(
      fc.property(fc.array(fc.constantFrom(...everyday), { minLength: 3, maxLength: 40 }), (words) => {
        for (const { reading } of placedReadings(read(words.join(' '))))
          if (reading.evidence.some(({ taken }) => taken !== undefined)) expect(reading.flag).not.toBe('sure')
      }),
      { numRuns: 60 },
    )
  })
  test('misheard notes: every word keeps its place, the account covers the source, no denial comes or goes', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 1e6 }), fc.constantFrom(0.1, 0.3), (seed, rate) => {
        const heard = noise(said, rate, String(seed))
        for (const word of wordsOf(heard)) {
          expect(heard.slice(word.start, word.end)).toBe(word.said)
          if (word.by !== 'sound') continue
          expect(word.said.toLowerCase()).not.toMatch(DENIAL)
          expect(word.norm).not.toMatch(DENIAL)
        }
        let at = 0
        for (const { start, end } of read(heard).account) {
          expect(start).toBe(at)
          at = end
        }
        expect(at).toBe(heard.length)
      }),
      { numRuns: 60 },
    )
  })
})
