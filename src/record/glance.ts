import type { Transcript } from '../transcript/transcript.ts'
import { dateOf, lengthOf, readingsOf } from './assemble.ts'
import { addNoteFeatures, findHiveWords, newHiveWords, passedNames, type Tally, tally } from './features.ts'
import { fieldInfo } from './fields.ts'
import { findTradeWords, isAllOfBees, newTradeWords, onTopic } from './off-topic.ts'
import { onlyHive, settle } from './resolve.ts'
import { type InspectionRecord, nested, type Remark } from './schema.ts'
import type { Draft, State } from './state.ts'
import type { Mark } from './turn.ts'

/**
 * Looks at one hive of a note that is still being spoken. The readings are those that the whole record has for the hive and
 * for the visit; the cost is that of the hive, not of the note. What the other hives look like is counted once and kept.
 */
export interface Glancer {
  /** Says which hives the words just heard changed; and which they `may` have brought back into a note that is not all of bees. */
  touch(hives: Iterable<string>, may?: Iterable<string>): void
  /** Forgets what was counted: the end of the text was taken away. */
  forget(): void
  /**
   * A record for each of some hives, with what was said of the visit. The accounts are left out. `visit as it was`: what was said
   * of the visit as a whole may be as the last look showed it.
   */
  glance(state: State, marks: readonly Mark[], hives: readonly string[], visit?: 'visit as it was'): InspectionRecord[]
}

export function createGlancer(transcript: Transcript, note: string): Glancer {
  const tallies = new Map<string, Tally>()
  const touched = new Set<string>()
  const perhaps = new Set<string>()
  let trade = newTradeWords()
  let words = newHiveWords()
  let allOfBees: boolean | null = null
  let onlyThen: string | null = null
  let ofVisit: Pick<InspectionRecord, 'visit' | 'date'> | null = null
  return {
    touch(hives, may = []) {
      for (const hive of hives) touched.add(hive)
      for (const hive of may) perhaps.add(hive)
    },
    forget() {
      tallies.clear()
      ofVisit = null
      trade = newTradeWords()
      words = newHiveWords()
    },
    glance(state, marks, asked, lastVisit) {
      const { text } = transcript
      findTradeWords(trade, text)
      findHiveWords(words, text, passedNames(state))
      // what stands far from any word of the trade counts or does not by what the whole text is about
      const isAll = isAllOfBees(trade, text)
      if (isAll !== allOfBees) tallies.clear()
      allOfBees = isAll
      if (!isAll) for (const hive of perhaps) touched.add(hive)
      // what was said before the only hive was called is that hive's, and is of none when another is called
      const only = onlyHive(state)
      if (only !== onlyThen) tallies.clear()
      onlyThen = only
      const counted = tallies.size > 0
      const old = lastVisit && counted && only === null && !touched.has('') && !asked.includes('') ? ofVisit : null
      const counting = new Set([...touched, ...asked, ...(only === null ? [] : [only])])
      if (!old) counting.add('')
      let hive: string | null = null
      let isCounting = false
      const bearsOn = (d: Draft): boolean => {
        // drafts of one hive mostly stand side by side
        if (d.hive !== hive) {
          hive = d.hive
          isCounting = counting.has(hive)
        }
        return isCounting || (old ? hive === '' && d.field.startsWith('mites.') : isOfVisit(d))
      }
      const settled = onTopic(settle(state, counted ? state.drafts.filter(bearsOn) : state.drafts), trade, text)
      const now = tally(settled)
      if (!counted) for (const [label, one] of now) tallies.set(label, one)
      else
        for (const label of counting) {
          const one = now.get(label)
          if (one) tallies.set(label, one)
          else tallies.delete(label)
        }
      touched.clear()
      perhaps.clear()
      const shown = new Set(old ? asked : [...asked, ''])
      const drafts = settled.filter((d) => shown.has(d.hive) || (!old && isOfVisit(d)))
      addNoteFeatures(drafts, { state, read: lengthOf(marks), length: text.length, words, tallies })
      const { readings } = readingsOf(drafts, state, text)
      const { visit, hives } = nested(readings, [])
      ofVisit = old ?? { visit, date: dateOf(state, drafts) }
      return asked.map((hive) => {
        const found = hives.find((one) => one.hive === hive)
        const bare = state.hives.includes(hive) ? [{ hive, readings: [], boxes: [] }] : []
        return {
          schema: 'combscribe/record/1',
          note,
          ...ofVisit!,
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

/** Words about bees that became no reading, at this hive. */
function remarksAt(marks: readonly Mark[], hive: string, text: string): Remark[] {
  const out: Remark[] = []
  for (const { kind, place, start, end, standing } of marks)
    if (kind === 'remark' && place.hive === hive)
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
