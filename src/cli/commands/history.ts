import { plot } from 'asciichart'
import type { InspectionRecord } from '../../record/schema.ts'
import { clean, paints } from '../../report/style.ts'
import { visitFields, visitValues } from '../../report/visit.ts'
import { sayField } from '../../report/words.ts'
import { logbookOption, openExisting } from '../logbooks.ts'
import { readOptions, usage } from '../options.ts'
import type { Terminal } from '../terminal.ts'

type Visit = { date: string; values: Map<string, string | number> }

/** `combscribe history`: the hives, or one hive's visits with what changed and its trends. */
export async function run(args: readonly string[], terminal: Terminal): Promise<number> {
  const { values, positionals } = readOptions('history', args, logbookOption)
  if (positionals.length > 1) throw usage('history', `takes one hive, and "${positionals[1]}" was given too`)
  const book = await openExisting(values.logbook)
  try {
    const hives = await book.hives()
    if (positionals[0] === undefined) {
      for (const { hive, notes } of hives) terminal.out(`${clean(hive) || '(not named)'}: visits ${notes}\n`)
      return 0
    }
    const hive = positionals[0].toLowerCase().replace(/^hive /, '')
    const visits: Visit[] = []
    for await (const { date, record } of book.notes(hive)) visits.push({ date, values: valuesOf(record, hive) })
    if (visits.length === 0) {
      const known = hives.map((one) => clean(one.hive)).join(', ')
      throw usage('history', `no visit to hive "${clean(hive)}" is in the logbook, which has ${known || 'no hives'}`)
    }
    const paint = paints(terminal.style)
    terminal.out(`${paint.title(`Hive ${clean(hive)}`)}\n\n`)
    for (const [i, { date, values: now }] of visits.entries()) {
      const parts = [...now].map(([field, value]) => {
        const before = visits[i - 1]?.values.get(field)
        const change = before === undefined || before === value ? '' : ` (was ${clean(String(before))})`
        return `${sayField(field)} ${clean(String(value))}${change}`
      })
      terminal.out(`${date}  ${parts.join(', ') || 'nothing of these'}\n`)
    }
    for (const field of visitFields) {
      const points = visits.flatMap(({ date, values: now }) => {
        const value = now.get(field)
        return typeof value === 'number' ? [{ date, value }] : []
      })
      if (points.length < 2) continue
      terminal.out(`\n${paint.heading(sayField(field))}, ${points[0]!.date} to ${points.at(-1)!.date}\n`)
      const shown = points.slice(-Math.floor((terminal.style.width - 12) / 4))
      // Four columns a visit: a line of one column a visit is too steep to see.
      const line = shown.flatMap(({ value }) => Array<number>(4).fill(value))
      terminal.out(`${plot(line, { height: Math.min(6, Math.max(1, spread(line))) })}\n`)
    }
    return 0
  } finally {
    await book.close()
  }
}

const spread = (line: readonly number[]) => Math.ceil(Math.max(...line) - Math.min(...line))

const valuesOf = (record: InspectionRecord, hive: string): Visit['values'] =>
  new Map(Object.entries(visitValues(record, hive)).map(([field, { value }]) => [field, value]))
