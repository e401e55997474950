import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { readNote } from '../src/read-note.ts'
import { confidenceOf, explainConfidence, featuresOf, flagOf, WEIGHTS } from '../src/record/confidence.ts'
import { fieldInfo } from '../src/record/fields.ts'
import { placedReadings, type Reading } from '../src/record/schema.ts'

const tool = (name: string) => import(/* @vite-ignore */ new URL(`./tools/${name}.mjs`, import.meta.url).href)
const { fitLogistic } = await tool('logistic')
const { auc, brier, calibrationError, cutFor } = await tool('reliability')

const names = [...new Set([...Object.keys(WEIGHTS.value.features), ...Object.keys(WEIGHTS.hive.features)])]
/** Any mix of features of any size, those without a weight among them. */
const anyFeatures = fc.dictionary(
  fc.constantFrom(...names, 'unheardOf', 'group did', 'group visit', 'field queen.seen'),
  fc.double({ min: 0, max: 2, noNaN: true }),
)
const all = { seed: 1, numRuns: 500 }

const readingsOf = (text: string): Reading[] =>
  placedReadings(readNote(text, { name: 'note', date: '2026-06-10' })).map(({ reading }) => reading)
const one = (text: string, field: string): Reading => {
  const reading = readingsOf(text).find((r) => r.field === field)
  if (!reading) throw new Error(`"${text}" gives no ${field}`)
  return reading
}

describe('confidence', () => {
  test('lies strictly between 0 and 1', () => {
    fc.assert(
      fc.property(anyFeatures, (features) => {
        const confidence = confidenceOf(features)
        expect(confidence).toBeGreaterThan(0)
        expect(confidence).toBeLessThan(1)
      }),
      all,
    )
  })

  test.each(['repair', 'hiveRepair', 'deniedAcross', 'noteStrange', 'unsureEngine', 'unsureStretch', 'conflict'])(
    'never rises with more of %s, and falls',
    (name) => {
      const sizes = [WEIGHTS.value, WEIGHTS.hive].flatMap((model) => model.features[name] ?? [])
      expect(sizes.length).toBeGreaterThan(0)
      for (const size of sizes) expect(size).toBeLessThan(0)
      fc.assert(
        fc.property(anyFeatures, fc.double({ min: 0, max: 1, noNaN: true }), (features, more) => {
          const less = { ...features, [name]: features[name] ?? 0 }
          expect(confidenceOf({ ...less, [name]: less[name]! + more })).toBeLessThanOrEqual(confidenceOf(less))
        }),
        all,
      )
    },
  )

  test('explains itself: what the features add gives the chances, and these the confidence', () => {
    fc.assert(
      fc.property(anyFeatures, (features) => {
        const parts = explainConfidence(features)
        let product = 1
        for (const { chance, adds } of parts) {
          const odds = adds.reduce((sum, { adds: x }) => sum + x, 0)
          expect(chance).toBeCloseTo(1 / (1 + Math.exp(-odds)), 9)
          product *= chance
        }
        expect(Math.abs(product - confidenceOf(features))).toBeLessThanOrEqual(0.001)
        // what belongs to the whole visit has no hive to be right or wrong
        expect(parts.map(({ part }) => part)).toEqual(features['group visit'] ? ['value'] : ['value', 'hive'])
      }),
      all,
    )
  })

  test('the weightiest feature stands first', () => {
    for (const { adds } of explainConfidence({ conflict: 1, repair: 0.3, hiveAgo: 0.5, 'group did': 1 })) {
      const sizes = adds.map(({ adds: x }) => Math.abs(x))
      expect(sizes).toEqual([...sizes].sort((a, b) => b - a))
    }
  })

  test('cuts part the flags in order', () => {
    expect(WEIGHTS.cuts.check).toBeLessThan(WEIGHTS.cuts.sure)
    expect(flagOf(WEIGHTS.cuts.sure)).toBe('sure')
    expect(flagOf(WEIGHTS.cuts.sure - 0.001)).toBe('check')
    expect(flagOf(WEIGHTS.cuts.check - 0.001)).toBe('guess')
  })

  test('fields with a weight of their own exist', () => {
    expect(Object.keys(WEIGHTS.value.fields).filter((field) => !fieldInfo(field))).toEqual([])
  })
})

describe('features', () => {
  test('hold every one that is not 0, the field and its group', () => {
    const draft = {
      field: 'did.feed',
      value: 'yes',
      how: 'carried',
      features: { repair: 0.2, hedged: 0, nearPast: 1 },
    } as const
    const features = featuresOf({ ...draft, features: { ...draft.features } })
    expect(features).toEqual({
      repair: 0.2,
      nearPast: 1,
      carried: 1,
      'did & nearPast': 1,
      'group did': 1,
      'field did.feed': 1,
    })
  })

  test('a reading states what its features amount to', () => {
    const text =
      'Hive two. Five frames of brood, no wait, six. Maybe some chalkbrood. I think she is the blue one? Fed them last week. Hive three. Eggs. Calm.'
    const readings = readingsOf(text)
    expect(readings.length).toBeGreaterThan(3)
    for (const reading of readings) {
      expect(reading.confidence).toBe(confidenceOf(reading.features))
      expect(reading.flag).toBe(flagOf(reading.confidence))
    }
  })

  test.each([
    [
      'a value that was said again differently',
      'Hive two. Calm bees.',
      'Hive two. Calm bees. Lid on. They are hot.',
      'temperament',
    ],
    [
      'words before any hive was named',
      'Hive two. Five frames of brood. Hive three. Eggs.',
      'Five frames of brood. Hive two. Calm. Hive three. Eggs.',
      'frames.brood',
    ],
  ])('%s lowers confidence', (_, plain, doubtful, field) => {
    expect(one(doubtful, field).confidence).toBeLessThan(one(plain, field).confidence)
  })

  test('an engine in doubt lowers confidence, the more the deeper', () => {
    const said = (confidence: number) => {
      const words = ['hive', 'two', 'five', 'frames', 'of', 'brood'].map((word, i) => ({
        word,
        start: i,
        end: i + 0.9,
        conf: word === 'five' ? confidence : 0.98,
      }))
      const note = JSON.stringify({ result: words, text: words.map(({ word }) => word).join(' ') })
      return one(note, 'frames.brood').confidence
    }
    expect(said(0.4)).toBeLessThan(said(0.7))
    expect(said(0.7)).toBeLessThan(said(0.98))
  })
})

describe('fitting', () => {
  // Launch temperatures (°F) of 23 space shuttle flights and whether an O-ring was damaged; maximum likelihood gives
  // intercept 15.0429 and slope -0.2322. Dalal, Fowlkes & Hoadley, J. Am. Stat. Assoc. 84 (1989) 945-957; figures from memory.
  const temperatures = [66, 70, 69, 68, 67, 72, 73, 70, 57, 63, 70, 78, 67, 53, 67, 75, 70, 81, 76, 79, 75, 76, 58]
  const damaged = [0, 1, 0, 0, 0, 0, 0, 0, 1, 1, 1, 0, 0, 1, 0, 0, 0, 0, 0, 0, 1, 0, 1]
  const flights = temperatures.map((t, i) => ({ at: [0, 1], size: [1, t], y: damaged[i] }))
  const columns = (more: object) => [
    { name: 'base', shrink: 0 },
    { name: 'temperature', shrink: 0, ...more },
  ]

  test('finds the published coefficients', () => {
    const [base, slope] = fitLogistic(flights, columns({}))
    expect(base).toBeCloseTo(15.0429, 2)
    expect(slope).toBeCloseTo(-0.2322, 3)
  })

  test('a forced sign holds the weight at 0, and leaves the share as base', () => {
    const [base, slope] = fitLogistic(flights, columns({ sign: 1 }))
    expect(slope).toBe(0)
    expect(base).toBeCloseTo(Math.log(7 / 16), 4)
  })

  test('shrinkage pulls towards the prior', () => {
    const [, slope] = fitLogistic(flights, columns({ shrink: 1e9, prior: -0.1 }))
    expect(slope).toBeCloseTo(-0.1, 4)
  })
})

describe('figures', () => {
  test('area under the curve', () => {
    // 58 normal and 51 abnormal images in five classes of suspicion, area 0.893: Hanley & McNeil, Radiology 143 (1982) 29-36,
    // tables I and II; figures from memory.
    const counts = { 0: [33, 6, 6, 11, 2], 1: [3, 2, 2, 11, 33] }
    const rows = Object.entries(counts).flatMap(([y, list]) =>
      list.flatMap((n, k) => Array.from({ length: n }, () => ({ y: Number(y), p: k / 5 }))),
    )
    expect(auc(rows)).toBeCloseTo(0.893, 3)
  })

  test('Brier score and calibration error', () => {
    const rows = [0.9, 0.9, 0.9, 0.9, 0.2].map((p, i) => ({ p, y: i < 3 ? 1 : 0 }))
    expect(brier(rows)).toBeCloseTo((3 * 0.01 + 0.81 + 0.04) / 5)
    expect(calibrationError(rows)).toBeCloseTo((4 / 5) * 0.15 + (1 / 5) * 0.2)
  })

  test('a cut is the lowest that keeps the share, and ties stay together', () => {
    const rows = [
      { p: 0.9, y: 1 },
      { p: 0.8, y: 1 },
      { p: 0.8, y: 0 },
      { p: 0.7, y: 1 },
      { p: 0.6, y: 0 },
    ]
    expect(cutFor(rows, 0)).toBe(0.9)
    expect(cutFor(rows, 0.25)).toBe(0.7)
    expect(cutFor(rows, 0.4)).toBe(0.6)
  })
})
