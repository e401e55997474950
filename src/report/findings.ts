import { type Caution, cautions } from '../rules/cautions.ts'
import { type Finding, gravity } from '../rules/finding.ts'
import { clean } from './clean.ts'
import { hang, paints, quoted, type Style } from './style.ts'
import { sayHive, sayPlace } from './words.ts'

/** What wants doing now: alarms to act on, the gravest first, then what is ready at a hive. */
export function firstThings(findings: readonly Finding[]): Finding[] {
  const weight = (finding: Finding) =>
    finding.kind === 'alarm' ? gravity(finding.verdict) : finding.verdict === 'yes' ? 1 : 0
  return findings
    .filter(
      (f) =>
        (f.kind === 'alarm' && gravity(f.verdict) >= 3) ||
        (f.kind === 'ready' && f.verdict === 'yes' && f.place.hive !== null),
    )
    .sort((a, b) => weight(b) - weight(a))
}

export const watched = (findings: readonly Finding[]): Finding[] => findings.filter((f) => f.verdict === 'watch')

/** Findings that say the same of several places of one hive, together. */
export function together(findings: readonly Finding[]): Finding[][] {
  const groups = new Map<string, Finding[]>()
  for (const finding of findings) {
    const { rule, place, verdict, says, provisional } = finding
    const key = JSON.stringify([rule, place.hive, place.box, verdict, says.what, says.next, provisional])
    groups.set(key, [...(groups.get(key) ?? []), finding])
  }
  return [...groups.values()]
}

/** Findings of one group in a sentence or two: where, what, what to do, and in words when it is not certain. */
export function findingLine(group: readonly Finding[], lead: string, style: Style): string {
  const finding = group[0]!
  const doubtful = finding.flips[0] ?? finding.restsOn[0]
  const unsure = finding.provisional ? ` Not certain${doubtful ? `: it rests on ${quoted(doubtful.quote)}` : ''}.` : ''
  const urgent = finding.verdict === 'urgent' ? 'URGENT, ' : ''
  const words = `${urgent}${placeWords(group)}: ${sentence(finding.says.what)} ${sentence(finding.says.next)}${unsure}`
  const text = hang(lead, clean(words), style.width)
  return urgent ? paints(style).urgent(text) : text
}

/** `hive 2, super 1, frame 3, side A`; several sides of one box as `hive 2, super 1, frames 2B, 3A, 3B`. */
export function placeWords(group: readonly Finding[]): string {
  const { hive, box, frame, side } = group[0]!.place
  if (hive === null) return 'visit'
  if (group.length === 1) return [sayHive(hive), sayPlace(box, frame, side)].filter(Boolean).join(', ')
  const sides = group.map(({ place }) => `${place.frame ?? ''}${place.side ?? ''}`).filter(Boolean)
  return [sayHive(hive), box, sides.length > 0 && `frames ${sides.join(', ')}`].filter(Boolean).join(', ')
}

/** Every caution that a finding calls for, once. */
export function cares(findings: readonly Finding[]): Caution[] {
  const known: Record<string, Caution> = cautions
  const named = new Set(findings.filter((f) => isShown(f)).flatMap((finding) => finding.cautions))
  return [...named].flatMap((id) => known[id] ?? [])
}

/** The same as lines. */
export const careLines = (findings: readonly Finding[], style: Style): string[] =>
  cares(findings).map(({ title, text }) => hang('  ! ', `${title}: ${text}`, style.width))

/** A finding that says nothing to do carries no caution to the reader. */
const isShown = ({ verdict }: Finding) =>
  !['none', 'no', 'cannot tell', 'nothing due', 'nothing to count'].includes(verdict)

/** `combscribe judge --as text`: every finding with its reasons, hive by hive. */
export function findingsText(note: string, findings: readonly Finding[], style: Style): string {
  const paint = paints(style)
  const out = [paint.title(clean(note))]
  for (const place of new Set(findings.map(({ place }) => place.hive))) {
    out.push('', paint.heading(place === null ? 'Whole visit' : clean(sayHive(place))))
    for (const finding of findings.filter((f) => f.place.hive === place)) out.push(full(finding, style))
  }
  if (findings.length === 0) out.push('', '  No rule has anything to say on this record.')
  const care = careLines(findings, style)
  if (care.length > 0) out.push('', paint.heading('Take care'), ...care)
  return `${out.join('\n')}\n`
}

function full(finding: Finding, style: Style): string {
  const { box, frame, side } = finding.place
  const place = sayPlace(box, frame, side)
  const title = `${clean(finding.title)}${place ? `, ${clean(place)}` : ''}: ${finding.verdict}`
  const painted = gravity(finding.verdict) >= 3 ? paints(style).urgent : (text: string) => text
  const lines = [painted(hang('  ', `${title}${finding.provisional ? ' (not certain)' : ''}`, style.width))]
  const add = (text: string) => text.trim() !== '' && lines.push(hang('      ', clean(text), style.width))
  add(`${sentence(finding.says.what)} ${sentence(finding.says.why)} ${sentence(finding.says.next)}`)
  for (const { event, earliest, likely, latest } of finding.dates) add(`${event}: ${likely} (${earliest} to ${latest})`)
  for (const { what, low, likely, high, unit } of finding.amounts) add(`${what}: ${likely} ${unit} (${low} to ${high})`)
  for (const { field, value, quote } of finding.restsOn) add(`rests on ${field} = ${value} ${quoted(quote)}`)
  for (const { field, instead, verdict } of finding.flips) add(`were ${field} ${instead}: ${verdict ?? 'no finding'}`)
  for (const { ask } of finding.missing) add(`ask: ${ask}`)
  if (finding.sources.length > 0) add(`sources: ${finding.sources.join(', ')}`)
  return lines.join('\n')
}

/** With a full stop, unless it ends in a mark already or there is nothing. */
const sentence = (text: string) => (text.trim() === '' || /[.!?]$/.test(text.trim()) ? text.trim() : `${text.trim()}.`)
