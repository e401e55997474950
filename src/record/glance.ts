import type { Transcript } from '../transcript/transcript.ts'
import { dateOf, lengthOf, readingsOf } from './assemble.ts'
import { addNoteFeatures, findHiveWords, newHiveWords, passedNames, type Tally, tally } from './features.ts'
import { fieldInfo } from './fields.ts'
import { findTradeWords, isAllOfBees, newTradeWords, onTopic } from './off-topic.ts'
import { settle } from './resolve.ts'
import { type InspectionRecord, nested, type Remark } from './schema.ts'
import type { Draft, State } from './state.ts'
import type { Mark } from './turn.ts'

/**
 * Looks at one hive of a note that is still being spoken. The readings are those that the whole record has for the hive and
 * for the visit; the cost is that of the hive, not of the note. What the other hives look like is counted once and kept.
 */
export interface Glancer {
  /** Says which hives the words just heard may have changed. */
  touch(hives: Iterable<string>): void
  /** Forgets what was counted: the note was folded anew. `text too`: the end of the text was taken away as well. */
  forget(text?: 'text too'): void
  /** A record for each of some hives, with what was said of the visit. The accounts are left out. */
  glance(state: State, marks: readonly Mark[], hives: readonly string[]): InspectionRecord[]
}

export function createGlancer(transcript: Transcript, note: string): Glancer {
  const tallies = new Map<string, Tally>()
  const touched = new Set<string>()
  let trade = newTradeWords()
  let words = newHiveWords()
  let allOfBees: boolean | null = null
  return {
    touch(hives) {
      for (const hive of hives) touched.add(hive)
    },
    forget(text) {
      tallies.clear()
      if (text === undefined) return
      trade = newTradeWords()
      words = newHiveWords()
    },
    glance(state, marks, asked) {
      const { text } = transcript
      findTradeWords(trade, text)
      findHiveWords(words, text, passedNames(state))
      // what stands far from any word of the trade counts or does not by what the whole text is about
      const isAll = isAllOfBees(trade, text)
      if (isAll !== allOfBees) tallies.clear()
      allOfBees = isAll
      const counted = tallies.size > 0
      const wanted = new Set([...touched, ...asked, ''])
      const settled = onTopic(
        settle(state, counted ? state.drafts.filter((d) => wanted.has(d.hive) || isOfVisit(d)) : state.drafts),
        trade,
        text,
      )
      const now = tally(settled)
      if (!counted) for (const [label, one] of now) tallies.set(label, one)
      else
        for (const label of wanted) {
          const one = now.get(label)
          if (one) tallies.set(label, one)
          else tallies.delete(label)
        }
      touched.clear()
      const drafts = settled.filter((d) => wanted.has(d.hive) || isOfVisit(d))
      addNoteFeatures(drafts, { state, read: lengthOf(marks), length: text.length, words, tallies })
      const { readings } = readingsOf(drafts, state, text)
      const { visit, hives } = nested(readings, [])
      const date = dateOf(state, drafts)
      return asked.map((hive) => {
        const found = hives.find((one) => one.hive === hive)
        const bare = state.hives.includes(hive) ? [{ hive, readings: [], boxes: [] }] : []
        return {
          schema: 'combscribe/record/1',
          note,
          date,
          visit,
          hives: found ? [found] : bare,
          remarks: remarksAt(marks, hive, text),
          questions: [],
          account: [],
        }
      })
    },
  }
}

const isOfVisit = ({ field }: Draft): boolean => fieldInfo(field)!.place === 'visit'

/** Words about bees that became no reading, at this hive or before any. */
function remarksAt(marks: readonly Mark[], hive: string, text: string): Remark[] {
  const out: Remark[] = []
  for (const { kind, place, start, end, standing } of marks)
    if (kind === 'remark' && (place.hive === hive || place.hive === ''))
      out.push({ ...place, quote: text.slice(start, end), start, end, standing })
  return out
}

/** How many of the last drafts later words may still change; `acts.ts` takes back among the last twelve. */
const CHANGEABLE = 12
/** How far back new words of the trade may bring something back into the note, in characters. */
const REACH = 700

/** The hives that the words heard since there were `before` drafts and `length` characters may have changed. */
export function touchedHives(state: State, before: number, length: number): Set<string> {
  const out = new Set([state.hive, ...state.group])
  for (let i = state.drafts.length - 1; i >= 0; i--) {
    const draft = state.drafts[i]!
    if (i < before - CHANGEABLE && draft.turn < state.turn - 8 && draft.evidence[0]!.start < length - REACH) break
    out.add(draft.hive)
  }
  return out
}
