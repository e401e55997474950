import { type Flag, type InspectionRecord, readingsIn, type Value } from '../record/schema.ts'
import { type Finding, gravity, type Place } from './finding.ts'
import { type JudgeOptions, judge, otherValues } from './judge.ts'
import type { YardForRules } from './settings.ts'

/** A doubtful reading and what another value of it would change. */
export interface Decisive {
  readonly reading: string
  readonly place: Place
  readonly field: string
  readonly value: Value
  readonly flag: Flag
  readonly confidence: number
  readonly quote: string
  /** Other values that it may have been. */
  readonly others: readonly Value[]
  readonly changes: readonly { rule: string; place: Place; from: string; to: string | null; instead: Value }[]
  /** How much hangs on it: the graver the verdict that could change, the more. */
  readonly weight: number
}

/** The doubtful readings of a record, those first on which most hangs; of equals the least sure first. */
export function decisive(
  record: InspectionRecord,
  history: readonly InspectionRecord[] = [],
  yard?: YardForRules,
  options: JudgeOptions = {},
): Decisive[] {
  const findings = judge(record, history, yard, options)
  const out: Decisive[] = []
  for (const { hive, box, frame, reading } of readingsIn(record)) {
    if (reading.flag === 'sure') continue
    const { id, field, value, flag, confidence, quote, side } = reading
    const changes = findings
      .filter(
        (finding) => finding.place.hive === hive || hive === null || field.startsWith('moved.') || near(finding, hive),
      )
      .flatMap((finding) =>
        finding.flips
          .filter((flip) => flip.reading === id && flip.field === field && flip.quote === quote)
          .map((flip) => ({
            rule: finding.rule,
            place: finding.place,
            from: finding.verdict,
            to: flip.verdict,
            instead: flip.instead,
          })),
      )
    const weight = changes.reduce((sum, { from, to }) => sum + worth(from, to), 0)
    const place = { hive, box, frame, side }
    out.push({
      reading: id,
      place,
      field,
      value,
      flag,
      confidence,
      quote,
      others: otherValues({ reading }),
      changes,
      weight,
    })
  }
  return out.sort((a, b) => b.weight - a.weight || a.confidence - b.confidence)
}

/** A rule about frames moved rests on the other hive's signs too. */
const near = (finding: Finding, hive: string) => finding.rule === 'frames-moved' && finding.place.hive !== hive

/** An alarm that could be raised or dropped counts by its gravity, a yes or no as much as a `watch`, the rest little. */
function worth(from: string, to: string | null): number {
  const alarm = Math.max(gravity(from), gravity(to ?? ''))
  if (alarm > 1) return alarm * alarm
  return from === 'yes' || to === 'yes' ? 4 : 1
}
