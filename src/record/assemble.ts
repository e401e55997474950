import { slice } from '../span.ts'
import type { Transcript } from '../transcript/transcript.ts'
import { accountOf, remarksOf } from './account.ts'
import { confidenceOf, featuresOf, flagOf, WEIGHTS } from './confidence.ts'
import { addNoteFeatures } from './features.ts'
import { fieldInfo } from './fields.ts'
import { onTopic } from './off-topic.ts'
import { boxName, settle } from './resolve.ts'
import type { Hive, InspectionRecord, Reading } from './schema.ts'
import type { Draft, State } from './state.ts'
import type { Mark } from './turn.ts'

/** Builds the record from what was heard so far. Pure: the state is not changed, so hearing may go on. */
export function assemble(state: State, marks: readonly Mark[], transcript: Transcript, note: string): InspectionRecord {
  const { text } = transcript
  const drafts = onTopic(settle(state), text)
  addNoteFeatures(drafts, state, marks, text)
  const ids = new Map<string, number>()
  const visit: Reading[] = []
  const hives = new Map<string, Hive>()
  const hiveOf = (label: string): Hive => {
    let hive = hives.get(label)
    if (!hive) {
      hive = { hive: label, readings: [], boxes: [] }
      hives.set(label, hive)
    }
    return hive
  }
  for (const label of state.hives) hiveOf(label)
  const placed = new Map<Draft, string>()
  for (const draft of drafts) {
    const reading = readingOf(draft, text, ids)
    placed.set(draft, reading.id)
    const info = fieldInfo(draft.field)!
    if (info.place === 'visit' || (draft.hive === '' && state.named)) {
      visit.push(reading)
      continue
    }
    const hive = hiveOf(draft.hive)
    if (draft.box === null && draft.frame === null) {
      hive.readings.push(reading)
      continue
    }
    const name = draft.box === null ? null : boxName(draft.box)
    let box = hive.boxes.find((b) => b.box === name)
    if (!box) {
      box = { box: name, readings: [], frames: [] }
      hive.boxes.push(box)
    }
    if (draft.frame === null) {
      box.readings.push(reading)
      continue
    }
    let frame = box.frames.find((f) => f.frame === draft.frame)
    if (!frame) {
      frame = { frame: draft.frame, readings: [] }
      box.frames.push(frame)
    }
    frame.readings.push(reading)
  }
  for (const hive of hives.values()) for (const box of hive.boxes) box.frames.sort((a, b) => a.frame - b.frame)
  const evidence = drafts.flatMap((draft) => draft.evidence.map((e) => ({ ...e, reading: placed.get(draft)! })))
  const date = drafts.find((d) => d.field === 'visit.date')?.value
  const account = accountOf(transcript, marks, evidence)
  return {
    schema: 'combscribe/record/1',
    note,
    date: state.noteDate ?? (typeof date === 'string' ? date : null),
    visit,
    hives: [...hives.values()],
    remarks: remarksOf(account, marks, text),
    questions: [],
    account,
  }
}

function readingOf(draft: Draft, text: string, ids: Map<string, number>): Reading {
  const features = featuresOf(draft)
  // what the speaker only supposes is never shown as sure, whatever the odds
  const ceiling = features.hedged ? WEIGHTS.cuts.sure - 0.001 : 1
  const confidence = Math.min(confidenceOf(features), ceiling)
  const own = draft.evidence[0]!
  const key = [draft.hive, draft.box ? boxName(draft.box) : '', draft.frame ?? '', draft.side ?? '', draft.field].join(
    '/',
  )
  const n = (ids.get(key) ?? 0) + 1
  ids.set(key, n)
  return {
    id: n === 1 ? key : `${key}/${n}`,
    field: draft.field,
    value: draft.value,
    unit: fieldInfo(draft.field)!.unit,
    side: draft.side,
    confidence,
    flag: flagOf(confidence),
    how: draft.how,
    quote: slice(text, own),
    start: own.start,
    end: own.end,
    at: draft.at,
    evidence: draft.evidence.map((e) => ({ quote: slice(text, e), start: e.start, end: e.end, by: e.by })),
    alternatives: draft.alternatives.map((a) => ({
      value: a.value,
      confidence: Math.round(Math.min(0.9, 1 - confidence) * 1000) / 1000,
      why: a.why,
      quote: text.slice(a.start, a.end),
    })),
    features,
    ...(draft.entry === undefined ? {} : { entry: draft.entry }),
    ...(draft.detail === undefined ? {} : { detail: draft.detail }),
  }
}
