import { explainConfidence } from '../record/confidence.ts'
import { type InspectionRecord, placedReadings, type Reading } from '../record/schema.ts'
import { clean } from './clean.ts'
import { hang, paints, quoted, type Style } from './style.ts'
import { sayHive, sayPlace, sayValue } from './words.ts'

/**
 * `--why`: where the values of a field came from. `asked` is a field (`queen.seen`), the beginning of some (`queen`),
 * `all`, or any of these behind a hive (`2:frames.brood`).
 */
export function why(record: InspectionRecord, asked: string, style: Style): string {
  const [, hive, field = ''] = /^(?:([^:]*):)?(.*)$/s.exec(asked) ?? []
  const all = placedReadings(record)
  const wanted = all.filter(
    (placed) =>
      (hive === undefined || placed.hive === hive.toLowerCase()) &&
      (field === 'all' || placed.reading.field === field || placed.reading.field.startsWith(`${field}.`)),
  )
  if (wanted.length > 0) {
    const blocks = wanted.map((placed) => {
      const whole = record.visit.includes(placed.reading) ? 'visit' : sayHive(placed.hive)
      const place = [whole, sayPlace(placed.box, placed.frame, placed.reading.side)]
      return explain(clean(place.filter(Boolean).join(', ')), placed.reading, style)
    })
    return `${blocks.join('\n\n')}\n`
  }
  const fields = [...new Set(all.map(({ reading }) => reading.field))].sort()
  const open = record.questions.filter((question) => question.field === field).map((q) => `  asked: ${clean(q.ask)}`)
  const known = fields.length > 0 ? `It gives ${fields.join(', ')}.` : 'It gives no readings at all.'
  return `${[hang('', `${clean(record.note)}: no reading of ${clean(asked)}. ${known}`, style.width), ...open].join('\n')}\n`
}

function explain(place: string, reading: Reading, style: Style): string {
  const paint = paints(style)
  const value = clean(sayValue(reading.value, reading.unit))
  const out = [
    paint.title(hang('', `${place}  ${reading.field} = ${value}`, style.width)),
    `  ${paint.flag(reading.flag, `${reading.confidence.toFixed(2)} ${reading.flag}`)}, ${reading.how}`,
  ]
  for (const { quote, start, end, by, taken } of reading.evidence) {
    const meant = taken === undefined ? '' : ` taken for ${quoted(taken)}`
    out.push(hang('  words  ', `${quoted(quote)}${meant} ${start}-${end}, by ${clean(by)}`, style.width))
  }
  for (const { part, chance, adds } of explainConfidence(reading.features)) {
    const told = adds.filter((x) => Math.abs(x.adds) >= 0.005).map((x) => `${clean(x.name)} ${signed(x.adds)}`)
    out.push(hang(`  ${part.padEnd(6)} `, `${chance.toFixed(2)}: ${told.join(', ')}`, style.width))
  }
  for (const { value: other, confidence, why: reason, quote } of reading.alternatives) {
    const words = quote === undefined ? '' : ` ${quoted(quote)}`
    out.push(
      hang(
        '  lost   ',
        `${clean(sayValue(other, reading.unit))} at ${confidence.toFixed(2)}, ${clean(reason)}${words}`,
        style.width,
      ),
    )
  }
  return out.join('\n')
}

const signed = (x: number): string => (x < 0 ? '−' : '+') + Math.abs(x).toFixed(2)
