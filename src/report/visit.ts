import { type Flag, type InspectionRecord, numberOf, placedReadings } from '../record/schema.ts'
import { openHives } from '../rules/hive-view.ts'
import { miteRate } from '../rules/mite-facts.ts'
import { openSettings } from '../rules/settings.ts'

/** What is shown of every visit to a hive and, where it is a number, drawn. */
export const visitFields = [
  'frames.bees',
  'frames.brood',
  'frames.honey',
  'eggs.present',
  'queen.seen',
  'queenCells.count',
  'pest.smallHiveBeetle.count',
  'mites.perHundred',
  'temperament',
  'stores.level',
] as const
export type VisitField = (typeof visitFields)[number]

export interface VisitValue {
  /** A number (a range by its middle) or a word. */
  readonly value: number | string
  /** Ends of a range that was said, or of the 95 % interval of a count of mites (Wilson score). */
  readonly low?: number
  readonly high?: number
  readonly unit: string | null
  readonly flag: Flag
}

/** The hive's own values (not those of single boxes' frames), in the order of `visitFields`; what was not said is left out. */
export function visitValues(record: InspectionRecord, hive: string): Partial<Record<VisitField, VisitValue>> {
  const found = new Map<string, VisitValue>()
  for (const { hive: of, frame, reading } of placedReadings({ ...record, visit: [] })) {
    const { field, value, unit, flag } = reading
    if (of !== hive || frame !== null || found.has(field)) continue
    const range = Array.isArray(value) ? { low: value[0], high: value[1] } : {}
    found.set(field, { value: numberOf(value) ?? String(value), ...range, unit, flag })
  }
  const counted = countedMites(record, hive)
  if (counted) found.set('mites.perHundred', counted)
  return Object.fromEntries(visitFields.flatMap((field) => (found.has(field) ? [[field, found.get(field)]] : [])))
}

const weakest: readonly Flag[] = ['guess', 'check', 'sure']

/** Mites per 100 bees as the rules count them: from the mites found in a sample, else as it was said. */
function countedMites(record: InspectionRecord, hive: string): VisitValue | undefined {
  const settings = openSettings(undefined, new Set())
  const trial = { touched: new Set<never>(), instead: undefined }
  const { visited } = openHives({ record, settings, today: record.date, trial, history: [] })
  const view = visited.find(({ label }) => label === hive)
  const mites = view && miteRate(view)
  if (!mites) return undefined
  const flags = mites.by.map(({ reading }) => reading.flag)
  return {
    value: tenths(mites.rate),
    ...(mites.low === undefined || mites.high === undefined
      ? {}
      : { low: tenths(mites.low), high: tenths(mites.high) }),
    unit: 'perHundred',
    flag: weakest.find((flag) => flags.includes(flag)) ?? 'check',
  }
}

const tenths = (number: number): number => Math.round(number * 10) / 10
