import { createReader, grammarFor, utterancesOf } from '../../read.ts'
import { type FlatReading, flatten, type InspectionRecord } from '../../record/schema.ts'
import type { PlaceInHand } from '../../report/live.ts'
import { sayField, sayHive, sayValue } from '../../report/words.ts'
import { type Finding, gravity } from '../../rules/finding.ts'
import { judge } from '../../rules/judge.ts'
import type { Segment, Transcript } from '../../transcript/transcript.ts'
import type { YardInUse } from '../yard-in-use.ts'

// stands in for src/live until that is there
export type Understood = FlatReading & { readonly text: string }
export interface Alarm {
  readonly hive: string | null
  readonly text: string
  readonly finding: Finding
}
export interface Lacking {
  readonly hive: string
  readonly field: string
  readonly short: string
  readonly ask: string
  readonly priority: string
}
export interface Answer {
  readonly where: PlaceInHand
  readonly moved: boolean
  readonly understood: readonly Understood[]
  readonly takenBack: readonly Understood[]
  readonly alarms: readonly Alarm[]
  readonly doubtful: readonly Understood[]
  readonly lacking: readonly Lacking[]
  readonly isCommand: { kind: string } | null
  readonly lines: readonly string[]
}
const keyOf = (r: FlatReading): string => JSON.stringify([r.hive, r.box, r.frame, r.side, r.field, r.value, r.start])
const alarmKey = ({ rule, place, verdict }: Finding): string => JSON.stringify([rule, place.hive, verdict])
const told = (r: FlatReading): Understood => ({ ...r, text: `${sayField(r.field)} ${sayValue(r.value, r.unit)}` })

export function createVisit(options: {
  name: string
  date: string
  yard?: YardInUse
  history?: readonly InspectionRecord[]
  restore?: string
}) {
  const { name, date, yard, history, restore } = options
  let text = ''
  const segments: Segment[] = []
  const whole: Transcript = {
    name,
    format: 'live',
    get text() {
      return text
    },
    segments,
  }
  const hints = yard?.hints
  const grammar = grammarFor(hints)
  const reader = createReader(whole, { name, date, ...(hints && { yard: hints }) })
  let kept = ''
  const take = (words: string) => {
    const start = text.length
    text += `${words}\n`
    const segment = { start, end: start + words.length }
    segments.push(segment)
    kept = `${JSON.stringify({ text: words })}\n`
    for (const utterance of utterancesOf({ name, format: 'live', text, segments: [segment] }, grammar))
      reader.hear(utterance)
  }
  const moment = () => {
    const record = reader.record()
    return { record, findings: judge(record, history, yard?.rules), place: reader.place(), readings: flatten(record) }
  }
  let now = moment()
  for (const line of (restore ?? '').split('\n').filter(Boolean)) {
    const { text: words } = JSON.parse(line)
    if (words) take(words)
  }
  if (restore) now = moment()
  return {
    hear(words: string): Answer {
      const before = now
      take(words)
      now = moment()
      const old = new Map(before.readings.map((r) => [keyOf(r), r]))
      const fresh = now.readings.filter((r) => !old.delete(keyOf(r)) && r.how !== 'derived').map(told)
      const gone = [...old.values()].filter(
        (r) => r.how !== 'derived' && !fresh.some((f) => f.field === r.field && f.start === r.start),
      )
      const alarmed = new Set(before.findings.map(alarmKey))
      const alarms = now.findings
        .filter((f) => f.kind === 'alarm' && gravity(f.verdict) >= 4 && !alarmed.has(alarmKey(f)))
        .map((finding) => ({
          hive: finding.place.hive,
          text: `${finding.says.what} ${finding.says.next}`.trim(),
          finding,
        }))
      return {
        where: now.place,
        moved: JSON.stringify(before.place) !== JSON.stringify(now.place),
        understood: fresh,
        takenBack: gone.map(told),
        alarms,
        doubtful: fresh.filter(({ flag }) => flag === 'guess'),
        lacking: [],
        isCommand: null,
        lines: [fresh.map(({ text }) => text).join('; ')].filter(Boolean),
      }
    },
    where: () => now.place,
    lacking: (hive = now.place.hive): Lacking[] => {
      const out = new Map<string, Lacking>()
      for (const f of now.findings)
        if (f.place.hive === hive)
          for (const { field, ask, priority } of f.missing)
            if (priority !== 'optional' && !field.startsWith('yard.') && now.record.hives.some((h) => h.hive === hive))
              out.set(field, { hive, field, short: sayField(field), ask, priority })
      return [...out.values()]
    },
    record: () => now.record,
    findings: () => now.findings,
    kept: () => kept,
    transcript: () => whole.text,
    whole: () => whole,
    hives: () => now.record.hives.map(({ hive }) => hive),
    sayHive,
  }
}
