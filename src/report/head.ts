import { type InspectionRecord, placedReadings } from '../record/schema.ts'
import { clean } from './clean.ts'
import { paints, type Style, wrap } from './style.ts'
import { counted, sayDay, sayValue } from './words.ts'

/** The line above a note's report: which note, which day, where, what weather. */
export function head(record: InspectionRecord, style: Style): string {
  const said = (field: string) => {
    const reading = record.visit.find((r) => r.field === field)
    return reading ? [clean(sayValue(reading.value, reading.unit))] : []
  }
  const parts = [
    clean(record.note),
    record.date === null ? 'day unknown' : sayDay(record.date),
    ...said('visit.apiary'),
    ...said('weather.temperature'),
    ...said('weather.sky'),
    ...said('weather.wind'),
  ]
  return wrap(parts.join('  ·  '), style.width).map(paints(style).title).join('\n')
}

/** How many readings there are and how many of them want a look. */
export function tally(record: InspectionRecord): string {
  const flags = placedReadings(record).map(({ reading }) => reading.flag)
  const count = (flag: string) => flags.filter((f) => f === flag).length
  if (flags.length === 0) return 'No reading: nothing in this note states a value.'
  const doubts = [
    ...(count('check') ? [`${count('check')} to check`] : []),
    ...(count('guess') ? [`${count('guess')} guessed`] : []),
  ]
  const all = counted(flags.length, 'reading')
  return doubts.length > 0 ? `${all}, ${doubts.join(', ')}.` : `${all}, all sure.`
}
