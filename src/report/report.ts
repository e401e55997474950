import { type InspectionRecord, placedReadings } from '../record/schema.ts'
import type { Finding } from '../rules/finding.ts'
import { asks, doubts } from './doubts.ts'
import { due, shortDay } from './due.ts'
import { careLines, findingLine, firstThings, watched } from './findings.ts'
import { head, tally } from './head.ts'
import { seen } from './seen.ts'
import { capital, clean, hang, pad, paints, type Style, wrap } from './style.ts'
import { sayHive } from './words.ts'

/** How many lines of a list are shown before it says how many more there are. */
const shown = 6

/** `--as report`: one screen for a person. What to do first, what is due, what was seen, what is open, what to mind. */
export function report(record: InspectionRecord, findings: readonly Finding[], style: Style): string {
  const paint = paints(style)
  const block = (title: string, lines: readonly string[]) =>
    lines.length > 0 ? [`${paint.heading(title)}\n${lines.join('\n')}`] : []

  const first = firstThings(findings).map((finding, i) => findingLine(finding, `${String(i + 1).padStart(2)}. `, style))
  const watch = watched(findings).map((finding) => findingLine(finding, '  - ', style))
  const amounts = findings
    .filter((finding) => finding.kind === 'howMuch' && finding.verdict === 'estimated')
    .map((finding) => findingLine(finding, '  - ', style))
  const dates = due(record, findings).map(({ day, hive, what, between, isSure }) => {
    const words = [hive, what, between].filter(Boolean).join(', ') + (isSure ? '' : ' (not sure)')
    return hang(`  ${pad(day === null ? 'no day said' : shortDay(day), 12)}`, clean(words), style.width)
  })
  const hives = record.hives.map((hive) => {
    const phrases = seen(hive, style)
    const words = phrases.length > 0 ? phrases.join('; ') : 'nothing said of it'
    return hang(`  ${capital(clean(sayHive(hive.hive)))}: `, words, style.width)
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
    ...block(`Not sure of: ${tally(record)}`, few(unsure, style)),
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
