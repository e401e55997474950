import type { FlatReading } from '../record/schema.ts'
import { clean } from '../report/clean.ts'
import { type PlaceInHand, sayReading, sayWhere } from '../report/live.ts'
import { sayField, sayHive, sayValue } from '../report/words.ts'
import { type Finding, gravity } from '../rules/finding.ts'
import type { Command } from './commands.ts'
import type { Lacking } from './hive-check.ts'

/** A reading and how it is said: `frames of brood 5`. */
export type Understood = FlatReading & { readonly text: string }

export interface Alarm {
  /** Null for what concerns the whole visit. */
  readonly hive: string | null
  readonly text: string
  readonly finding: Finding
}

/** What one utterance changed, and what is said in return. */
export interface Answer {
  readonly where: PlaceInHand
  /** Hive, box, frame or side in hand are others than before. */
  readonly moved: boolean
  /** Readings that this utterance gave or put right. */
  readonly understood: readonly Understood[]
  /** Readings that it took away: they stand no more. */
  readonly takenBack: readonly Understood[]
  /** Alarms that were not there before. */
  readonly alarms: readonly Alarm[]
  /** Those of `understood` that are no better than a guess: to be said again. */
  readonly doubtful: readonly Understood[]
  /** What the rules lack for a hive that is being closed or was left just now. */
  readonly lacking: readonly Lacking[]
  /** The words were meant for the program. */
  readonly isCommand: Command | null
  /** What is printed or spoken; empty where there is nothing to say. */
  readonly lines: readonly string[]
}

/** A reading as it is spoken back. */
export const understood = (reading: FlatReading): Understood => ({ ...reading, text: sayReading(reading) })

/**
 * What is new among `now` and what is gone of `before`; sums that follow from the rest are left out. Words from the place `from`
 * on were said otherwise before: what they meant counts there, not where they stand.
 */
export function changed(
  before: readonly FlatReading[],
  now: readonly FlatReading[],
  from = Number.POSITIVE_INFINITY,
): { fresh: FlatReading[]; gone: FlatReading[] } {
  const placeOf = ({ start }: FlatReading) => Math.min(start, from)
  const key = (r: FlatReading) =>
    JSON.stringify([r.hive, r.box, r.frame, r.side, r.field, r.value, placeOf(r), r.entry ?? null])
  const old = new Map(before.filter(({ how }) => how !== 'derived').map((r) => [key(r), r]))
  const fresh = now.filter((r) => r.how !== 'derived' && !old.delete(key(r)))
  const gone = [...old.values()].filter((r) => !fresh.some((f) => f.field === r.field && placeOf(f) === placeOf(r)))
  return { fresh, gone }
}

export const isAlarm = (f: Finding): boolean => f.kind === 'alarm' && gravity(f.verdict) >= 4
export const alarmKey = ({ rule, place, verdict }: Finding): string => JSON.stringify([rule, place.hive, verdict])
export const alarmOf = (finding: Finding): Alarm => ({
  hive: finding.place.hive,
  text: `${clean(finding.says.what)} ${clean(finding.says.next ?? '')}`.trim(),
  finding,
})

/** The lines of an answer, in the order of the telling: alarms first, they cannot wait. */
export function linesOf(answer: Omit<Answer, 'lines'>): string[] {
  const { where, moved, alarms, lacking } = answer
  const lines = alarms.map(({ hive, text }) => `ATTENTION${hive === null ? '' : `, ${clean(sayHive(hive))}`}: ${text}`)
  const elsewhere = (r: FlatReading): string =>
    r.hive !== where.hive && r.hive !== '' ? `${clean(sayHive(r.hive))}, ` : ''
  const words = answer.understood.map((r) => elsewhere(r) + r.text).join('; ')
  // before any hive was called, what is said is said of the visit
  const place = words !== '' && where.hive === '' && where.frame === null ? '' : sayWhere(where)
  if (words !== '' || moved) lines.push([place, words].filter(Boolean).join(': '))
  for (const r of answer.takenBack)
    lines.push(`taken back: ${elsewhere(r)}${sayField(r.field)} ${clean(sayValue(r.value, r.unit))}`)
  if (lacking.length > 0) lines.push(sayLacking(lacking))
  return lines
}

/** `hive 2, not said: eggs; queen cells.` */
export function sayLacking(lacking: readonly Lacking[]): string {
  const { hive } = lacking[0]!
  return `${clean(sayHive(hive))}, not said yet: ${lacking.map(({ short }) => short).join('; ')}`
}
