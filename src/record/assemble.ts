import { slice } from '../span.ts'
import type { Transcript } from '../transcript/transcript.ts'
import { accountOf, remarksOf } from './account.ts'
import { chanceOf, featuresOf, flagOf, WEIGHTS } from './confidence.ts'
import { addNoteFeatures, findHiveWords, newHiveWords, passedNames, tally } from './features.ts'
import { fieldInfo } from './fields.ts'
import { findTradeWords, newTradeWords, onTopic } from './off-topic.ts'
import { boxName, settle } from './resolve.ts'
import { type InspectionRecord, nested, type PlacedReading, type Reading } from './schema.ts'
import type { Draft, State } from './state.ts'
import type { Mark } from './turn.ts'

/** Builds the record from what was heard so far. Pure: the state is not changed, so hearing may go on. */
export function assemble(state: State, marks: readonly Mark[], transcript: Transcript, note: string): InspectionRecord {
  const { text } = transcript
  const trade = newTradeWords()
  findTradeWords(trade, text)
  const words = newHiveWords()
  findHiveWords(words, text, passedNames(state))
  const drafts = onTopic(settle(state), trade, text)
  addNoteFeatures(drafts, { state, read: lengthOf(marks), length: text.length, words, tallies: tally(drafts) })
  const { readings, placed } = readingsOf(drafts, state, text)
  const evidence = drafts.flatMap((draft) => draft.evidence.map((e) => ({ ...e, reading: placed.get(draft)! })))
  const account = accountOf(transcript, marks, evidence)
  return {
    schema: 'combscribe/record/1',
    note,
    date: dateOf(state, drafts),
    ...nested(
      readings,
      state.hives.map((hive) => ({ hive, boxes: [] })),
    ),
    remarks: remarksOf(account, marks, text),
    questions: [],
    account,
  }
}

/** How many characters some marks are of. */
export function lengthOf(marks: readonly Mark[]): number {
  let length = 0
  for (const { start, end } of marks) length += end - start
  return length
}

/** The day of the visit: the caller's, else the one that was said. */
export function dateOf(state: State, drafts: readonly Draft[]): string | null {
  const date = drafts.find((d) => d.field === 'visit.date')?.value
  return state.noteDate ?? (typeof date === 'string' ? date : null)
}

/** Settled drafts, in the order of the text, as readings with their place; and the identity that each was given. */
export function readingsOf(
  drafts: readonly Draft[],
  state: State,
  text: string,
): { readings: PlacedReading[]; placed: Map<Draft, string> } {
  const ids = new Map<string, number>()
  const placed = new Map<Draft, string>()
  const readings = drafts.map((draft): PlacedReading => {
    const { hive, frame } = draft
    const reading = readingOf(draft, text, ids)
    placed.set(draft, reading.id)
    const isOfVisit = fieldInfo(draft.field)!.place === 'visit' || (hive === '' && state.named)
    return { hive: isOfVisit ? null : hive, box: draft.box === null ? null : boxName(draft.box), frame, reading }
  })
  return { readings, placed }
}

/** From here up words were put right by their sound or by a rare mishearing, and not by a common one. */
const SUPPOSED = 0.2

function readingOf(draft: Draft, text: string, ids: Map<string, number>): Reading {
  const { features } = draft
  // what the speaker only supposes, and what the reader did or took from a whole clause, is never shown as sure, whatever the odds
  const isSupposed =
    features.hedged ||
    features.likely ||
    features.deniedAcross ||
    Math.max(features.repair ?? 0, features.hiveRepair ?? 0) >= SUPPOSED
  const ceiling = isSupposed ? WEIGHTS.cuts.sure - 0.001 : 1
  const confidence = Math.min(chanceOf(draft), ceiling)
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
    evidence: draft.evidence.map(({ start, end, by, taken }) => ({
      quote: slice(text, { start, end }),
      start,
      end,
      by,
      ...(taken === undefined ? {} : { taken }),
    })),
    alternatives: draft.alternatives.map((a) => ({
      value: a.value,
      confidence: Math.round(Math.min(0.9, 1 - confidence) * 1000) / 1000,
      why: a.why,
      quote: text.slice(a.start, a.end),
    })),
    get features() {
      return featuresOf(draft)
    },
    ...(draft.entry === undefined ? {} : { entry: draft.entry }),
    ...(draft.detail === undefined ? {} : { detail: draft.detail }),
  }
}
