import type { InspectionRecord, Reading, Value } from '../../src/record/schema.ts'
import type { YardForRules } from '../../src/rules/settings.ts'

/**
 * A rule case in one line, as a person would jot it down:
 *
 *   on 2026-05-10 ; yard country=GB ; eggs.present=no? ; super 1/3/A: honey.cappedPercent=85 ~ 58 => act
 *
 * `;` parts readings. Before a reading may stand its place: `@hive`, box, frame, side. `?` marks a value to check, `??` a
 * guess, `~` another value it may have been, `#2` its entry. `visit:` is the visit's own. `before DATE:` is an earlier
 * visit, `remark WORDS` words that fit no field, `today DATE` the day that is asked for.
 */
export interface Case {
  readonly record: InspectionRecord
  readonly history: readonly InspectionRecord[]
  readonly yard: YardForRules
  readonly today: string | undefined
}

const regionKeys = ['country', 'hemisphere', 'climate', 'units']
const equipmentKeys = ['broodFrame', 'superFrame', 'framesPerBox']

export function caseOf(line: string): Case {
  const record = emptyRecord('today')
  const earlier = new Map<string, InspectionRecord>()
  const yard: Record<string, Record<string, unknown>> = { region: {}, equipment: {}, rules: {} }
  let today: string | undefined
  for (const part of line.split(';').map((text) => text.trim())) {
    if (part === '') continue
    const [head, ...rest] = part.split(' ')
    const tail = rest.join(' ')
    if (head === 'on') record.date = tail
    else if (head === 'today') today = tail
    else if (head === 'remark') record.remarks.push(remark(tail))
    else if (head === 'yard') {
      const [key, value] = split(tail, '=')
      const group = regionKeys.includes(key) ? 'region' : equipmentKeys.includes(key) ? 'equipment' : 'rules'
      yard[group]![key] = parse(value)
    } else if (head === 'before') {
      const [date, said] = split(tail, ':')
      const visit = earlier.get(date) ?? { ...emptyRecord(`visit-${date}`), date }
      earlier.set(date, visit)
      put(visit, said.trim())
    } else put(record, part)
  }
  const history = [...earlier.values()].sort((a, b) => ((a.date ?? '') < (b.date ?? '') ? -1 : 1))
  return { record, history, yard, today }
}

export function emptyRecord(note: string): InspectionRecord {
  return {
    schema: 'combscribe/record/1',
    note,
    date: null,
    visit: [],
    hives: [],
    remarks: [],
    questions: [],
    account: [],
  }
}

const remark = (quote: string): InspectionRecord['remarks'][number] => ({
  hive: '',
  box: null,
  frame: null,
  side: null,
  quote,
  start: 0,
  end: quote.length,
  at: null,
  standing: 'affirmed',
})

export interface Said {
  readonly field: string
  readonly value: Value
  readonly flag?: Reading['flag']
  readonly others?: readonly Value[]
  readonly hive?: string
  readonly box?: string | null
  readonly frame?: number | null
  readonly side?: 'A' | 'B' | null
  readonly entry?: number
}

/** Puts one reading in its place of a record. */
export function add(record: InspectionRecord, said: Said): Reading {
  const { field, value, hive = '', box = null, frame = null, side = null, flag = 'sure', others = [] } = said
  const quote = `${field} ${JSON.stringify(value)}`
  const reading: Reading = {
    id: `${hive}/${box}/${frame}/${field}#${Math.random()}`,
    field,
    value,
    unit: null,
    side,
    confidence: flag === 'sure' ? 0.97 : flag === 'check' ? 0.7 : 0.4,
    flag,
    how: 'stated',
    quote,
    start: 0,
    end: quote.length,
    at: null,
    evidence: [],
    alternatives: others.map((other) => ({ value: other, confidence: 0.2, why: 'homophone' })),
    features: {},
    ...(said.entry === undefined ? {} : { entry: said.entry }),
  }
  if (hive === 'visit') {
    record.visit.push(reading)
    return reading
  }
  const inHive = found(record.hives, (one) => one.hive === hive, { hive, readings: [], boxes: [] })
  const inBox =
    box === null && frame === null
      ? undefined
      : found(inHive.boxes, (one) => one.box === box, { box, readings: [], frames: [] })
  const inFrame =
    inBox && frame !== null ? found(inBox.frames, (one) => one.frame === frame, { frame, readings: [] }) : undefined
  const target = inFrame ?? inBox ?? inHive
  target.readings.push(reading)
  return reading
}

/** The one that is wanted, put in when it is not there yet. */
function found<T>(list: T[], wanted: (one: T) => boolean, fresh: T): T {
  const old = list.find(wanted)
  if (old) return old
  list.push(fresh)
  return fresh
}

function put(record: InspectionRecord, text: string): void {
  if (/^@\S+$/.test(text)) {
    // A hive that was opened and not described.
    record.hives.push({ hive: text.slice(1).replaceAll('_', ' '), readings: [], boxes: [] })
    return
  }
  if (text === 'nothing') {
    record.hives.push({ hive: '', readings: [], boxes: [] })
    return
  }
  const colon = text.indexOf(':')
  const place = colon >= 0 ? text.slice(0, colon) : ''
  const [field, rest] = split(colon >= 0 ? text.slice(colon + 1).trim() : text, '=')
  const [main, ...others] = rest.split('~').map((word) => word.trim())
  const entry = main!.match(/#(\d+)$/)?.[1]
  const doubt = main!.match(/(\?+)(?:#\d+)?$/)?.[1] ?? ''
  const bare = main!.replace(/#\d+$/, '').replace(/\?+$/, '')
  add(record, {
    field,
    value: parse(bare) as Value,
    flag: doubt === '' ? 'sure' : doubt === '?' ? 'check' : 'guess',
    others: others.map((other) => parse(other) as Value),
    ...placeOf(place),
    ...(entry === undefined ? {} : { entry: Number(entry) }),
  })
}

/** `@blue super 1/3/A`: hive, box, frame, side; each may be left out. Spaces in a hive's name are written `_`. */
export function placeOf(text: string) {
  if (text === 'visit') return { hive: 'visit', box: null, frame: null, side: null }
  const hive = text.match(/^@(\S+)/)?.[1]?.replaceAll('_', ' ') ?? ''
  const [box = '', frame, side] = text.replace(/^@\S+/, '').trim().split('/')
  return {
    hive,
    box: box.trim() || null,
    frame: frame ? Number(frame) : null,
    side: side === 'A' || side === 'B' ? (side as 'A' | 'B') : null,
  }
}

function split(text: string, by: string): [string, string] {
  const at = text.indexOf(by)
  if (at < 0) throw new Error(`no "${by}" in "${text}"`)
  return [text.slice(0, at).trim(), text.slice(at + 1).trim()]
}

function parse(text: string): unknown {
  try {
    return JSON.parse(text)
  } catch {
    return text
  }
}
