import type { VisitField } from '../../report/visit.ts'

/** What is drawn over the visits of a hive. */
export interface Trend {
  readonly field: VisitField
  readonly title: string
  readonly unit: string
  /** Words of a scale, from the lowest; empty for numbers. */
  readonly steps: readonly string[]
}

export const trends: readonly Trend[] = [
  { field: 'frames.brood', title: 'Brood', unit: 'frames', steps: [] },
  { field: 'frames.bees', title: 'Bees', unit: 'frames', steps: [] },
  { field: 'mites.perHundred', title: 'Mites', unit: 'in 100 bees', steps: [] },
  { field: 'pest.smallHiveBeetle.count', title: 'Hive beetles', unit: 'seen', steps: [] },
  { field: 'temperament', title: 'Temper', unit: '', steps: ['calm', 'restless', 'defensive', 'aggressive'] },
  { field: 'stores.level', title: 'Stores', unit: '', steps: ['none', 'low', 'adequate', 'plentiful'] },
]
