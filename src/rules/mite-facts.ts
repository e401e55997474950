import type { HiveView, Placed } from './hive-view.ts'
import { amount, word } from './look.ts'
import { wilson } from './wilson.ts'

export interface MiteRate {
  /** Mites per 100 bees. */
  readonly rate: number
  /** Its 95 % interval; undefined where the sample was not said. */
  readonly low: number | undefined
  readonly high: number | undefined
  readonly sample: number | undefined
  readonly method: string | undefined
  readonly by: readonly Placed[]
}

const ofBees = (method: string | undefined) =>
  method !== 'stickyBoard' && method !== 'droneUncapping' && method !== 'visual'

/** Mites per 100 bees of a wash, roll or the like; the counts outrank a rate that was said. */
export function miteRate(hive: HiveView): MiteRate | undefined {
  const method = word(hive, 'mites.method')
  if (!ofBees(method.is)) return undefined
  const found = amount(hive, 'mites.count')
  const sample = amount(hive, 'mites.sampleBees')
  if (found && sample && sample.likely > 0) {
    const { low, high } = wilson(found.likely, sample.likely)
    return {
      rate: (found.likely / sample.likely) * 100,
      low: low * 100,
      high: high * 100,
      sample: sample.likely,
      method: method.is,
      by: [...found.by, ...sample.by, ...method.by],
    }
  }
  const said = amount(hive, 'mites.perHundred')
  if (!said) return undefined
  return {
    rate: said.likely,
    low: undefined,
    high: undefined,
    sample: undefined,
    method: method.is,
    by: [...said.by, ...method.by],
  }
}

/** Mites a day on a board. */
export function boardDrop(hive: HiveView): { perDay: number; by: readonly Placed[] } | undefined {
  const said = amount(hive, 'mites.dropPerDay')
  if (said) return { perDay: said.likely, by: said.by }
  const method = word(hive, 'mites.method')
  const count = amount(hive, 'mites.count')
  const days = amount(hive, 'mites.days')
  if (method.is !== 'stickyBoard' || !count || !days || days.likely <= 0) return undefined
  return { perDay: count.likely / days.likely, by: [...count.by, ...days.by, ...method.by] }
}
