import type { Hive, InspectionRecord, Reading } from '../record/schema.ts'
import { clean } from './clean.ts'
import { head, tally } from './head.ts'
import { type Cell, capital, hang, paints, quoted, row, type Style, wrap } from './style.ts'
import { sayField, sayHive, sayValue } from './words.ts'

/**
 * `--as table`: every reading, grouped by hive, box and frame, its exact words beside it.
 * `check` and `guess` stand in a column of their own, so that nothing depends on seeing colour.
 */
export function table(record: InspectionRecord, style: Style): string {
  const paint = paints(style)
  const blocks = [`${head(record, style)}\n${wrap(tally(record), style.width).join('\n')}`]
  if (record.visit.length > 0) {
    blocks.push([paint.heading('Whole visit'), ...lines(record.visit, 1, style)].join('\n'))
  }
  for (const hive of record.hives) blocks.push(hiveBlock(hive, record, style))
  const general = record.remarks.filter((remark) => !record.hives.some((hive) => hive.hive === remark.hive))
  if (general.length > 0)
    blocks.push([paint.heading('Also said'), ...general.map((r) => also(r.quote, style))].join('\n'))
  if (record.questions.length > 0) {
    const asked = record.questions.map((q) =>
      hang('  ', `${sayHive(q.hive)}: ${clean(q.ask)} ${quoted(q.quote)}`, style.width),
    )
    blocks.push([paint.heading('Questions'), ...asked].join('\n'))
  }
  return `${blocks.join('\n\n')}\n`
}

function hiveBlock(hive: Hive, record: InspectionRecord, style: Style): string {
  const paint = paints(style)
  const out = [paint.heading(clean(capital(sayHive(hive.hive)))), ...lines(hive.readings, 1, style)]
  for (const box of hive.boxes) {
    if (box.box !== null) out.push(`  ${clean(box.box)}`)
    out.push(...lines(box.readings, 2, style))
    for (const frame of box.frames) {
      out.push(`    frame ${frame.frame}`)
      out.push(...lines(frame.readings, 3, style))
    }
  }
  for (const remark of record.remarks.filter((r) => r.hive === hive.hive)) out.push(also(remark.quote, style))
  return out.join('\n')
}

const also = (quote: string, style: Style) => hang('  also said  ', quoted(quote), style.width)

/** One line a reading: field, value, mark, words. The columns keep their place whatever the depth. */
function lines(readings: readonly Reading[], depth: number, style: Style): string[] {
  const paint = paints(style)
  const isNarrow = style.width < 64
  const [field, value, mark] = isNarrow ? [style.width - 19, 11, 5] : [27, 14, 5]
  const quote = style.width - field - value - mark - 3
  return readings.map((reading) => {
    const flagged = (text: string) => paint.flag(reading.flag, text)
    const cells: Cell[] = [
      { text: fieldWords(reading), width: field, indent: 2 * depth },
      { text: valueWords(reading), width: value, paint: flagged },
      { text: reading.flag === 'sure' ? '' : reading.flag, width: mark, paint: flagged },
    ]
    const words = source(reading)
    if (!isNarrow) return row([...cells, { text: words, width: quote, paint: paint.quote }])
    return `${row(cells)}\n${row([{ text: words, width: style.width, indent: 2 * depth + 2, paint: paint.quote }])}`
  })
}

function fieldWords(reading: Reading): string {
  const side = reading.side === null ? '' : `, side ${reading.side}`
  const entry = reading.entry === undefined ? '' : ` (${reading.entry})`
  return `${sayField(reading.field)}${entry}${side}`
}

/** The value, and for a doubtful one the next best. */
function valueWords(reading: Reading): string {
  const next = reading.flag === 'sure' ? undefined : reading.alternatives[0]
  const value = clean(sayValue(reading.value, reading.unit))
  const detail = reading.detail === undefined ? '' : `, ${clean(reading.detail)}`
  return next ? `${value}${detail} (or ${clean(sayValue(next.value, reading.unit))}?)` : value + detail
}

function source(reading: Reading): string {
  if (reading.how === 'derived') return reading.quote === '' ? 'worked out' : `worked out from ${quoted(reading.quote)}`
  if (reading.how === 'corrected')
    return reading.quote === '' ? 'put right by hand' : `put right; was ${quoted(reading.quote)}`
  return quoted(reading.quote)
}
