import { describe, expect, test } from 'vitest'
import { readNote } from '../src/read-note.ts'
import { placedReadings, type Reading } from '../src/record/schema.ts'

/** What an engine says of its own doubts, from its file to the reading: alternatives, confidence of words, gaps in time. */
const readings = (file: unknown): Reading[] =>
  placedReadings(readNote(JSON.stringify(file), { name: 'note', date: '2026-06-10' })).map(({ reading }) => reading)
const of = (file: unknown, field: string): Reading | undefined => readings(file).find((r) => r.field === field)

/** Vosk with `alternatives`: the best first, numbers that are no probabilities. */
const nBest = (...texts: string[]) => ({
  alternatives: texts.map((text, i) => ({ text, confidence: 200 - i })),
})
/** Vosk with words: start, end and confidence; a number before a word is a pause in seconds. */
function timed(...said: (string | number | [word: string, confidence: number])[]) {
  let now = 0
  const result: object[] = []
  for (const one of said) {
    if (typeof one === 'number') {
      now += one
      continue
    }
    const [word, conf] = typeof one === 'string' ? [one, 1] : one
    result.push({ word, start: now, end: now + 0.3, conf })
    now += 0.4
  }
  return { result, text: result.map((one) => (one as { word: string }).word).join(' ') }
}

describe('alternatives', () => {
  test('a lower-ranked one that makes sense in the grammar wins, and the reading is not sure', () => {
    expect(of(nBest('hive two seven frames of toast'), 'frames.brood')).toBeUndefined()
    const brood = of(nBest('hive two seven frames of toast', 'hive two seven frames of brood'), 'frames.brood')!
    expect(brood.value).toBe(7)
    expect(brood.flag).not.toBe('sure')
    expect(brood.quote).toContain('toast')
    expect(brood.evidence[0]!.taken).toBe('seven frames of brood')
  })
  test('one that makes no sense does not', () => {
    const brood = of(nBest('hive two seven frames of brood', 'hive two seven frames of toast'), 'frames.brood')!
    expect(brood.value).toBe(7)
    expect(brood.evidence[0]!.taken).toBeUndefined()
  })
  test('no denial comes from one, and none goes', () => {
    expect(of(nBest('hive two no eggs', 'hive two new eggs'), 'eggs.present')!.value).toBe('no')
    expect(of(nBest('hive two new eggs', 'hive two no eggs'), 'eggs.present')?.value ?? 'yes').toBe('yes')
  })
})

describe('a denial', () => {
  const clear = timed('hive', 'two', 'no', 'queen', 'cells')
  const cells = of(clear, 'queenCells.present')!
  test('that was hardly heard lowers the confidence, though the words denied were clear', () => {
    const low = of(timed('hive', 'two', ['no', 0.2], 'queen', 'cells'), 'queenCells.present')!
    expect(cells.value).toBe('no')
    expect(low.confidence).toBeLessThan(cells.confidence - 0.05)
    expect(low.flag).not.toBe('sure')
  })
  test('before a gap in time is not sure', () => {
    const gap = of(timed('hive', 'two', 'no', 6, 'queen', 'cells'), 'queenCells.present')
    expect(gap === undefined || gap.flag !== 'sure').toBe(true)
    expect(gap?.confidence ?? 0).toBeLessThan(cells.confidence)
  })
})

test('a word that the engine doubts is less sure', () => {
  const clear = of(timed('hive', 'two', 'six', 'frames', 'of', 'brood'), 'frames.brood')!
  const low = of(timed('hive', 'two', ['six', 0.3], 'frames', 'of', 'brood'), 'frames.brood')!
  expect(low.value).toBe(clear.value)
  expect(low.confidence).toBeLessThan(clear.confidence - 0.05)
})
