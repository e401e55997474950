import { type InspectionRecord, placedReadings } from '../record/schema.ts'
import type { Finding } from '../rules/finding.ts'
import { clean } from './clean.ts'
import { sayDay, sayField, sayHive } from './words.ts'

/** One entry of the list of what is due. */
export interface Due {
  /** ISO day to sort by; null for a plan without a day. */
  readonly day: string | null
  readonly hive: string
  readonly what: string
  /** The days between which it may fall, where they differ. */
  readonly between: string
  readonly isSure: boolean
}

/** Said already by the keeper, or growing by itself with nothing to do: the full list has them. */
const leftOut = new Set(['jobs-due', 'brood-emerging'])

/** What the keeper said is to be done, and what the rules date from the evidence, in the order of the calendar. */
export function due(record: InspectionRecord, findings: readonly Finding[]): Due[] {
  const out: Due[] = []
  /** Days on which the keeper means to look in, by hive. */
  const plans = new Set<string>()
  const all = placedReadings(record)
  for (const { hive, reading } of all) {
    if (!/^todo\.\w+$/.test(reading.field) || reading.value === 'no') continue
    const day = typeof reading.value === 'string' && /^\d{4}-/.test(reading.value) ? reading.value : null
    const detail = reading.detail === undefined ? '' : ` (${clean(reading.detail)})`
    // "In July" has no day: it stands beside its plan in the speaker's words.
    const vague = all.find(
      (o) => o.hive === hive && o.reading.field === `${reading.field}.when` && o.reading.entry === reading.entry,
    )
    const when = vague ? ` ${clean(String(vague.reading.value))}` : ''
    const what = `${sayField(reading.field).replace('to do: ', '')}${detail}${when}, as you said`
    out.push({ day, hive: placeOf(hive), what, between: '', isSure: reading.flag === 'sure' })
    if (reading.field === 'todo.inspect') plans.add(`${day} ${hive}`)
  }
  for (const finding of findings) {
    if (leftOut.has(finding.rule)) continue
    for (const { event, earliest, likely, latest } of finding.dates) {
      // The keeper's own plan is in the list already.
      if (event === 'visit as planned' && plans.has(`${likely} ${finding.place.hive}`)) continue
      const between = earliest === latest ? '' : `between ${shortDay(earliest)} and ${shortDay(latest)}`
      out.push({
        day: likely,
        hive: placeOf(finding.place.hive ?? ''),
        what: event,
        between,
        isSure: !finding.provisional,
      })
    }
  }
  return together(out).sort(byDay)
}

/** In the order of the calendar; what has no day comes last. */
export function byDay(a: Pick<Due, 'day'>, b: Pick<Due, 'day'>): number {
  const [first, second] = [a.day ?? '9999', b.day ?? '9999']
  return first < second ? -1 : first > second ? 1 : 0
}

/** The same for several hives on one day is one entry. */
function together(entries: readonly Due[]): Due[] {
  const groups = new Map<string, Due>()
  for (const entry of entries) {
    const key = JSON.stringify([entry.day, entry.what, entry.between, entry.isSure])
    const known = groups.get(key)
    if (!known) groups.set(key, entry)
    else if (!known.hive.split(', ').includes(entry.hive))
      groups.set(key, { ...known, hive: `${known.hive}, ${entry.hive}` })
  }
  return [...groups.values()]
}

const placeOf = (hive: string) => (hive === '' ? '' : sayHive(hive))
/** Without the year: the list is about the weeks to come. */
export const shortDay = (iso: string): string => sayDay(iso).replace(/ \d+$/, '')
