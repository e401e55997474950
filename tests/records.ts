import type { Hive, InspectionRecord, Reading } from '../src/record/schema.ts'

/** Records made by hand, for tests of what comes after the reader. */

export function reading(field: string, value: Reading['value'], more: Partial<Reading> = {}): Reading {
  const quote = more.quote ?? `${field} ${value}`
  const start = more.start ?? 0
  return {
    id: `${field}#1`,
    field,
    value,
    unit: null,
    side: null,
    confidence: 0.97,
    flag: 'sure',
    how: 'stated',
    quote,
    start,
    end: start + quote.length,
    at: null,
    evidence: [{ quote, start, end: start + quote.length, by: 'queen.json:3' }],
    alternatives: [],
    features: { hiveByWord: 1, hiveAgo: 0.4, manyWords: 0.5 },
    ...more,
  }
}

export const hive = (label: string, readings: Reading[], boxes: Hive['boxes'] = []): Hive => ({
  hive: label,
  readings,
  boxes,
})

export const record = (hives: Hive[], more: Partial<InspectionRecord> = {}): InspectionRecord => ({
  schema: 'combscribe/record/1',
  note: 'spring-round',
  date: '2026-10-04',
  visit: [],
  hives,
  remarks: [],
  questions: [],
  account: [],
  ...more,
})
