import { plot } from 'asciichart'
import stringWidth from 'string-width'
import { clean } from '../../report/clean.ts'
import { deedsOf } from '../../report/deeds.ts'
import { intervalPlot } from '../../report/interval-plot.ts'
import { paints } from '../../report/style.ts'
import { type VisitField, type VisitValue, visitFields, visitValues } from '../../report/visit.ts'
import { counted, sayField } from '../../report/words.ts'
import { logbookOption, openExisting } from '../logbooks.ts'
import { readOptions, usage } from '../options.ts'
import type { Terminal } from '../terminal.ts'

interface Visit {
  readonly date: string
  readonly values: Partial<Record<VisitField, VisitValue>>
  readonly deeds: readonly string[]
  readonly urgent: readonly string[]
}

/** Shorter names for the fields that have long ones. */
const short: Partial<Record<VisitField, string>> = {
  'queenCells.count': 'queen cells',
  'pest.smallHiveBeetle.count': 'small hive beetles',
  'mites.perHundred': 'mites on 100 bees',
}
const nameOf = (field: VisitField): string => short[field] ?? sayField(field)

/** Words that can be drawn, from the lowest. */
const levels: Partial<Record<VisitField, readonly string[]>> = {
  temperament: ['calm', 'restless', 'defensive', 'aggressive'],
  'stores.level': ['none', 'low', 'adequate', 'plentiful'],
}

/** `combscribe history`: the hives, or one hive's visits with what changed and its trends. */
export async function run(args: readonly string[], terminal: Terminal): Promise<number> {
  const { values, positionals } = readOptions('history', args, logbookOption)
  if (positionals.length > 1) throw usage('history', `takes one hive, and "${positionals[1]}" was given too`)
  const book = await openExisting(values.logbook)
  try {
    const hives = await book.hives()
    if (positionals[0] === undefined) {
      const label = (hive: string) => clean(hive) || '(not named)'
      const longest = Math.max(0, ...hives.map(({ hive }) => stringWidth(label(hive))))
      for (const { hive, notes, first, last } of hives) {
        const days = first === last ? first : `${first} to ${last}`
        const space = ' '.repeat(longest - stringWidth(label(hive)))
        terminal.out(`${label(hive)}${space}  ${counted(notes, 'visit').padStart(10)}  ${days}\n`)
      }
      return 0
    }
    const hive = positionals[0].toLowerCase().replace(/^hive /, '')
    const visits: Visit[] = []
    const [days, readers, judges] = [new Map<string, number>(), new Set<string>(), new Set<string>()]
    for await (const { id, date, dateFrom, reader, judgedBy, record } of book.notes(hive)) {
      const urgent = (await book.findings(id)).filter(
        ({ place, verdict }) => place.hive === hive && verdict === 'urgent',
      )
      visits.push({
        date,
        values: visitValues(record, hive),
        deeds: deedsOf(record, hive),
        urgent: urgent.map(({ says }) => says.what),
      })
      days.set(dateFrom, (days.get(dateFrom) ?? 0) + 1)
      readers.add(reader)
      if (judgedBy) judges.add(judgedBy)
    }
    if (visits.length === 0) {
      const known = hives.map((one) => clean(one.hive)).join(', ')
      throw usage('history', `no visit to hive "${clean(hive)}" is in the logbook, which has ${known || 'no hives'}`)
    }
    const paint = paints(terminal.style)
    terminal.out(`${paint.title(`Hive ${clean(hive)}`)}\n\n`)
    for (const [i, visit] of visits.entries()) {
      const { date, deeds, urgent } = visit
      const lines = [
        rowOf(visit, visits.slice(0, i)),
        deeds.length > 0 ? `done: ${clean(deeds.join(', '))}` : '',
        ...urgent.map((what) => paint.urgent(`urgent: ${clean(what)}`)),
      ].filter(Boolean)
      terminal.out(`${date}  ${(lines.length > 0 ? lines : ['nothing of these']).join(`\n${' '.repeat(12)}`)}\n`)
    }
    for (const field of visitFields) {
      const lines = trend(field, visits, terminal.style.width)
      if (lines.length > 0) terminal.out(`\n${paint.heading(headingOf(field))}\n${lines.join('\n')}\n`)
    }
    const sources = [...days].map(([source, count]) => `${source} ${count}`).join(', ')
    terminal.out(`\nDays: ${sources}. Read by ${[...readers].sort().join('; ')}.\n`)
    if (judges.size > 0) terminal.out(`Judged by ${[...judges].sort().join('; ')}.\n`)
    return 0
  } finally {
    await book.close()
  }
}

/** What a visit found, and what is other than it was when it was last said. */
function rowOf({ values }: Visit, earlier: readonly Visit[]): string {
  return visitFields
    .flatMap((field) => {
      const now = values[field]
      if (!now) return []
      const before = earlier.findLast((one) => one.values[field])?.values[field]
      const change = before === undefined || before.value === now.value ? '' : ` (was ${clean(String(before.value))})`
      return [`${nameOf(field)} ${clean(String(now.value))}${change}`]
    })
    .join(', ')
}

const headingOf = (field: VisitField): string =>
  field === 'mites.perHundred' ? `${nameOf(field)}, with the 95 % interval of each count` : nameOf(field)

/** One value over the visits, drawn; empty where it was said less than twice. */
function trend(field: VisitField, visits: readonly Visit[], width: number): string[] {
  const words = levels[field]
  const points = visits.flatMap(({ date, values }) => {
    const { value, low, high } = values[field] ?? {}
    const number = typeof value === 'number' ? value : (words?.indexOf(value ?? '') ?? -1)
    return value === undefined || number < 0 ? [] : [{ date, value: number, low, high }]
  })
  if (points.length < 2) return []
  // A count from a sample is drawn with how far off it may be: a rise inside that is none.
  if (points.some(({ low }) => low !== undefined))
    return intervalPlot(
      points.map(({ date, value, low, high }) => ({ label: date, value, low: low ?? value, high: high ?? value })),
      width,
    )
  const shown = points.slice(-Math.floor((width - 12) / 4))
  // Four columns a visit: a line of one column a visit is too steep to see.
  const line = shown.flatMap(({ value }) => Array<number>(4).fill(value))
  const [low, high] = [Math.min(...line), Math.max(...line)]
  // At most six steps, of whole numbers: nobody counts 34.2 beetles.
  const step = Math.max(1, Math.ceil((high - low) / 6))
  const height = Math.ceil((high - low) / step)
  const longest = Math.max(0, ...(words ?? []).map((word) => word.length))
  const format = words
    ? { format: (level: number) => (words[Math.round(level)] ?? '').padStart(longest) }
    : { format: (number: number) => number.toFixed(number % 1 === 0 ? 0 : 1).padStart(7) }
  const drawn =
    height === 0
      ? `  the same at ${counted(shown.length, 'visit')}`
      : plot(line, { height, min: low, max: low + height * step, ...format })
  return [
    ...drawn.split('\n').map((line) => line.trimEnd()),
    `  ${counted(shown.length, 'visit')}, ${shown[0]!.date} to ${shown.at(-1)!.date}`,
  ]
}
