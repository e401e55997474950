import type { Reader } from '../read.ts'
import { type FlatReading, flatten, type InspectionRecord } from '../record/schema.ts'
import type { Finding } from '../rules/finding.ts'
import { judge } from '../rules/judge.ts'
import type { YardForRules } from '../rules/settings.ts'

/** One hive as it stands now: its readings and the visit's, and what the rules find at it. */
export interface Sight {
  readonly hive: string
  readonly record: InspectionRecord
  /** Of this hive alone. */
  readonly readings: readonly FlatReading[]
}

export interface Looker {
  look(...hives: string[]): Sight[]
  /** What the rules (of one kind) find at a hive, and of the visit as far as this hive shows it. Costs what the hive costs. */
  findings(sight: Sight, kind?: Finding['kind']): Finding[]
}

/** Looks at single hives of a visit. `history` are earlier records, of which each hive is judged by its own. */
export function createLooker(reader: Reader, history: readonly InspectionRecord[] = [], yard?: YardForRules): Looker {
  const past = new Map<string, InspectionRecord[]>()
  const pastOf = (hive: string): InspectionRecord[] => {
    const known = past.get(hive)
    if (known) return known
    const own = history.flatMap((record) => {
      const hives = record.hives.filter((one) => one.hive === hive)
      return hives.length > 0 ? [{ ...record, hives }] : []
    })
    past.set(hive, own)
    return own
  }
  /** Hives between which frames were said to go: what is found at one bears on the other. */
  const links = new Map<string, Set<string>>()
  const link = (a: string, b: string): void => {
    links.set(a, (links.get(a) ?? new Set()).add(b))
    links.set(b, (links.get(b) ?? new Set()).add(a))
  }
  const look = (...hives: string[]): Sight[] =>
    reader.glances(hives, 'visit as it was').map((record, i) => {
      const hive = hives[i]!
      const readings = flatten(record).filter((reading) => reading.hive === hive)
      for (const { field, value } of readings)
        if (/^moved\.(from|to)$/.test(field) && String(value) !== hive) link(hive, String(value))
      return { hive, record, readings }
    })
  return {
    look,
    findings({ hive, record }, kind) {
      const linked = links.get(hive)
      const others =
        linked === undefined ? [] : reader.glances([...linked], 'visit as it was').flatMap(({ hives }) => hives)
      const together = others.length > 0 ? { ...record, hives: [...record.hives, ...others] } : record
      return judge(together, pastOf(hive), yard, { flips: false, ...(kind && { kind }) })
    },
  }
}
