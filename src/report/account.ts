import { type AccountEntry, type InspectionRecord, placedReadings } from '../record/schema.ts'
import { clean } from './clean.ts'
import { head } from './head.ts'
import { hang, pad, paints, type Style, wrap } from './style.ts'
import { sayField, sayValue } from './words.ts'

/**
 * `--as account`: the note from its first character to its last, and what became of every stretch. `text` is the
 * transcript that the record was read from. Stretches of nothing but space are left out.
 */
export function account(record: InspectionRecord, text: string, style: Style): string {
  const byId = new Map(placedReadings(record).map(({ reading }) => [reading.id, reading]))
  const paint = paints(style)
  const lines = record.account
    .filter((entry) => entry.kind !== 'space' && clean(text.slice(entry.start, entry.end)) !== '')
    .map((entry) => {
      const words = clean(text.slice(entry.start, entry.end))
      const out = [hang(`${pad(String(entry.start), 7)}${pad(label(entry), 21)}`, words, style.width)]
      for (const id of entry.readings) {
        const reading = byId.get(id)
        if (!reading) continue
        const said = `${sayField(reading.field)}: ${clean(sayValue(reading.value, reading.unit))}`
        const flagged = reading.flag === 'sure' ? said : `${said} (${reading.flag})`
        for (const line of wrap(flagged, style.width - 30)) out.push(' '.repeat(30) + paint.flag(reading.flag, line))
      }
      return out.join('\n')
    })
  return `${[head(record, style), wrap(shares(record), style.width).join('\n'), '', ...lines].join('\n')}\n`
}

const label = (entry: AccountEntry) =>
  clean(entry.standing && entry.standing !== entry.kind ? `${entry.kind}, ${entry.standing}` : entry.kind)

/** How much of the note went where, in characters. */
function shares(record: InspectionRecord): string {
  const sizes = new Map<string, number>()
  for (const { kind, start, end } of record.account) sizes.set(kind, (sizes.get(kind) ?? 0) + end - start)
  return [...sizes].map(([kind, size]) => `${kind} ${size}`).join(', ') || 'nothing in this note'
}
