import { type InspectionRecord, placedReadings } from '../record/schema.ts'
import type { Finding } from '../rules/finding.ts'
import { clean } from './clean.ts'
import { asks, doubts } from './doubts.ts'
import { due, shortDay } from './due.ts'
import { careLines, findingLine, firstThings, together, watched } from './findings.ts'
import { head, tally } from './head.ts'
import { seen } from './seen.ts'
import { capital, hang, pad, paints, row, type Style, wrap } from './style.ts'
import { sayHive } from './words.ts'

/** How many lines of a list are shown before it says how many more there are. */
const shown = 6

/** `--as report`: one screen for a person. What to do first, what is due, what was seen, what is open, what to mind. */
export function report(record: InspectionRecord, findings: readonly Finding[], style: Style): string {
  const paint = paints(style)
  const block = (title: string, lines: readonly string[]) =>
    lines.length > 0 ? [`${paint.heading(title)}\n${lines.join('\n')}`] : []

  const list = (some: readonly Finding[], lead: (place: number) => string) =>
    together(some).map((group, i) => findingLine(group, lead(i + 1), style))
  const first = list(firstThings(findings), (place) => `${String(place).padStart(2)}. `)
  const watch = list(watched(findings), () => '  - ')
  const estimates = findings.filter((finding) => finding.kind === 'howMuch' && finding.verdict === 'estimated')
  const amounts = list(estimates, () => '  - ')
  const dates = due(record, findings).map(({ day, hive, what, between, isSure }) => {
    const words = [hive, what, between].filter(Boolean).join(', ') + (isSure ? '' : ' (not sure)')
    return hang(`  ${pad(day === null ? 'no day said' : shortDay(day), 12)}`, clean(words), style.width)
  })
  const hives = record.hives.map((hive) => {
    const phrases = seen(hive, style)
    const words = phrases.length > 0 ? phrases.join('; ') : 'nothing said of it'
    return row([{ text: `${capital(clean(sayHive(hive.hive)))}: ${words}`, width: style.width, indent: 2 }])
  })
  const open = asks(record, findings).map((text) => hang('  - ', text, style.width))
  const unsure = doubts(record, findings).map(({ flag, text }) =>
    paint.flag(flag, hang('  ? ', `${text} [${flag}]`, style.width)),
  )

  const isEmpty = placedReadings(record).length === 0
  const nothing = isEmpty ? tally(record) : 'Nothing in this note calls for anything at once.'

  const blocks = [
    head(record, style),
    ...block('Do first', first.length > 0 ? few(first, style) : [`  ${nothing}`]),
    ...block('Keep an eye on', few(watch, style)),
    ...block('Due', few(dates, style, 8)),
    ...block('Seen', hives),
    ...block('About how much', few(amounts, style)),
    ...block('Still to be said', few(open, style)),
    ...block('Not sure of', unsure.length > 0 ? [`  ${tally(record)}`, ...few(unsure, style)] : []),
    ...block('Take care', careLines(findings, style)),
  ]
  return `${blocks.join('\n\n')}\n`
}

/** The first lines of a list, and how many are left out. */
function few(lines: readonly string[], style: Style, limit = shown): string[] {
  if (lines.length <= limit + 1) return [...lines]
  const rest = wrap(`and ${lines.length - limit} more: --as table and combscribe judge show them all`, style.width - 4)
  return [...lines.slice(0, limit), ...rest.map((line) => `    ${line}`)]
}
