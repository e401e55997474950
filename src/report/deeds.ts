import { type InspectionRecord, placedReadings } from '../record/schema.ts'
import { sayField, sayValue } from './words.ts'

/** What was done at a hive, a few words a deed: `take honey 2`, `treat (formic acid, withdrawal 21 days)`. */
export function deedsOf(record: InspectionRecord, hive: string): string[] {
  const deeds = new Map<string, { name: string; amount: string; more: string[] }>()
  for (const { hive: of, reading } of placedReadings({ ...record, visit: [] })) {
    const { field, value, unit, entry } = reading
    const [kind, name = '', part] = field.split('.')
    if (of !== hive || kind !== 'did' || value === 'no') continue
    const key = `${name}|${entry ?? ''}`
    const deed = deeds.get(key) ?? { name: sayField(`did.${name}`).replace('done: ', ''), amount: '', more: [] }
    deeds.set(key, deed)
    const said = sayValue(value, unit)
    if (part !== undefined) deed.more.push(part === 'withdrawal' ? `withdrawal ${said}` : said)
    else if (value !== 'yes') deed.amount = ` ${said}`
  }
  return [...deeds.values()].map(
    ({ name, amount, more }) => `${name}${amount}${more.length > 0 ? ` (${[...new Set(more)].join(', ')})` : ''}`,
  )
}
