import { type FlatReading, flatten, type InspectionRecord } from '../record/schema.ts'
import { type Finding, gravity } from '../rules/finding.ts'
import { asks } from './doubts.ts'
import { clean } from './style.ts'
import { sayField, sayHive, sayPlace, sayValue } from './words.ts'

/** Where the keeper is just now. */
export interface PlaceInHand {
  readonly hive: string
  readonly box: string | null
  readonly frame: number | null
  readonly side: 'A' | 'B' | null
}

/** One moment of a visit: the record so far, what the rules find in it, and the place in hand. */
export interface Moment {
  readonly record: InspectionRecord
  readonly findings: readonly Finding[]
  readonly place: PlaceInHand
}

/** `hive 2, super 1, frame 4, side B`. */
export const sayWhere = ({ hive, box, frame, side }: PlaceInHand): string =>
  [clean(sayHive(hive)), sayPlace(box, frame, side)].filter(Boolean).join(', ')

const key = (r: FlatReading) => JSON.stringify([r.hive, r.box, r.frame, r.side, r.field, r.value, r.start])
const said = (r: FlatReading): string =>
  `${sayField(r.field)} ${clean(sayValue(r.value, r.unit))}${r.flag === 'sure' ? '' : r.flag === 'check' ? ' (check)' : ' (a guess: say it again)'}`

/**
 * The answer to one utterance, a line each: the place in hand if it changed, what was understood now, what was taken
 * back or moved, and alarms that were not there before. Empty where nothing changed.
 */
export function answerLines(before: Moment | null, now: Moment): string[] {
  const old = new Map((before ? flatten(before.record) : []).map((r) => [key(r), r]))
  const fresh = flatten(now.record).filter((r) => !old.delete(key(r)) && r.how !== 'derived')
  const lines: string[] = []
  const where = sayWhere(now.place)
  if (fresh.length > 0 || !before || where !== sayWhere(before.place))
    lines.push([where, fresh.map((r) => elsewhere(r, now.place) + said(r)).join('; ')].filter(Boolean).join(': '))
  const gone = [...old.values()].filter(
    (r) => r.how !== 'derived' && !fresh.some((f) => f.field === r.field && f.start === r.start),
  )
  for (const r of gone)
    lines.push(`taken back: ${elsewhere(r, now.place)}${sayField(r.field)} ${clean(sayValue(r.value, r.unit))}`)
  const known = new Set((before?.findings ?? []).filter(isAlarm).map(alarmKey))
  for (const finding of now.findings)
    if (isAlarm(finding) && !known.has(alarmKey(finding)))
      lines.push(
        `ATTENTION${finding.place.hive === null ? '' : `, ${clean(sayHive(finding.place.hive))}`}: ${clean(finding.says.what)} ${clean(finding.says.next ?? '')}`.trim(),
      )
  return lines
}

const isAlarm = (f: Finding): boolean => f.kind === 'alarm' && gravity(f.verdict) >= 4
const alarmKey = ({ rule, place, verdict }: Finding) => JSON.stringify([rule, place.hive, verdict])
const elsewhere = (r: FlatReading, place: PlaceInHand): string =>
  r.hive !== place.hive && r.hive !== '' ? `${clean(sayHive(r.hive))}, ` : ''

/** What the rules would still need to hear of the hive in hand, before it is closed; the urgent first. */
export function lackingLines({ record, findings, place }: Moment): string[] {
  // nobody can answer a setting of the yard file at an open hive
  const here = findings
    .filter((f) => f.place.hive === place.hive)
    .map((f) => ({ ...f, missing: f.missing.filter(({ field }) => !field.startsWith('yard.')) }))
  return asks({ ...record, questions: record.questions.filter((q) => q.hive === place.hive) }, here)
}

/** What was said of the hive in hand, all of it or what `about` (a word of the field's name, such as `queen`) picks. */
export function readBackLines({ record, place }: Moment, about?: string): string[] {
  const stem = about?.toLowerCase().replace(/s$/, '')
  return flatten(record)
    .filter((r) => r.hive === place.hive && r.how !== 'derived')
    .filter((r) => stem === undefined || `${r.field} ${sayField(r.field)}`.toLowerCase().includes(stem))
    .map((r) => `${[sayPlace(r.box, r.frame, r.side), said(r)].filter(Boolean).join(': ')}`)
}
