import type { CautionId } from './cautions.ts'
import type { Amount, Ask, Event, Kind, Verdict } from './finding.ts'
import type { HiveView, Placed } from './hive-view.ts'
import type { Origin, SourceId } from './sources.ts'

/** One number of a rule, as the rulebook prints it and a yard may set it. */
export interface RuleNumber {
  readonly value: number
  readonly unit: string
  readonly about: string
  readonly from: Origin
  /** A fact that explains a rule or comes from elsewhere in it: printed, and no setting of the yard. */
  readonly fixed?: true
}

export const num = (value: number, unit: string, from: Origin, about: string): RuleNumber => ({
  value,
  unit,
  from,
  about,
})

/** What a rule answers; `judge` adds rule, hive, flips and the like to make a Finding of it. */
export interface Answer {
  readonly verdict: Verdict
  readonly what: string
  readonly why: string
  readonly next?: string
  readonly place?: { box: string | null; frame: number | null; side: 'A' | 'B' | null }
  readonly restsOn?: readonly Placed[]
  readonly missing?: readonly Ask[]
  readonly dates?: readonly Event[]
  readonly amounts?: readonly Amount[]
  readonly cautions?: readonly CautionId[]
  readonly sources?: readonly SourceId[]
}

export const known = (value: number, unit: string, from: Origin, about: string): RuleNumber => ({
  ...num(value, unit, from, about),
  fixed: true,
})

type Numbers = Record<string, RuleNumber>

export interface Rule {
  readonly id: string
  readonly title: string
  readonly kind: Kind
  /** The verdicts it can give, where not all of its kind. */
  readonly verdicts?: readonly Verdict[]
  /** Fields that the rule looks at; `*` stands for any name. */
  readonly needs: readonly string[]
  readonly numbers: Numbers
  readonly sources: readonly SourceId[]
  readonly cautions: readonly CautionId[]
  /** Judged once a visit instead of once a hive. */
  readonly wholeVisit?: true
  /** Also asked about a hive that is dead. */
  readonly evenDead?: true
  /** Also asked about a hive of the history that this visit did not speak of. */
  readonly evenUnvisited?: true
  judge(hive: HiveView, n: Record<string, number>): readonly Answer[]
}

/** A rule whose numbers reach `judge` under their own names. */
export function defineRule<N extends Numbers>(
  rule: Omit<Rule, 'numbers' | 'judge'> & {
    readonly numbers: N
    judge(hive: HiveView, n: { readonly [K in keyof N]: number }): readonly Answer[]
  },
): Rule {
  return rule as unknown as Rule
}
