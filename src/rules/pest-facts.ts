import type { HiveView, Placed } from './hive-view.ts'
import { amount, says, word } from './look.ts'

export type Level = 'none' | 'few' | 'some' | 'many'
const levels: readonly string[] = ['none', 'few', 'some', 'many']

export interface PestFacts {
  readonly level: Level | undefined
  readonly larvae: boolean | undefined
  readonly count: { low: number; high: number } | undefined
  readonly by: readonly Placed[]
}

/**
 * How many of a pest were seen: the graver of word and number, so that a second remark never plays down the first.
 * `bounds`: a count up to the first is few, up to the second some.
 */
export function pestFacts(hive: HiveView, name: string, bounds: readonly [number, number]): PestFacts {
  const said = word(hive, `pest.${name}.level`)
  const count = amount(hive, `pest.${name}.count`)
  const present = says(hive, `pest.${name}.present`)
  const larvae = says(hive, `pest.${name}.larvae`)
  const ranks: number[] = []
  if (said.is !== undefined && levels.includes(said.is)) ranks.push(levels.indexOf(said.is))
  if (count) ranks.push(count.likely <= 0 ? 0 : count.likely <= bounds[0] ? 1 : count.likely <= bounds[1] ? 2 : 3)
  if (present.is !== undefined) ranks.push(present.is ? 1 : 0)
  return {
    level: ranks.length > 0 ? (levels[Math.max(...ranks)] as Level) : undefined,
    larvae: larvae.is,
    count: count && { low: count.low, high: count.high },
    by: [...said.by, ...(count?.by ?? []), ...present.by, ...larvae.by],
  }
}
