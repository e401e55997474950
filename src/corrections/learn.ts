import { distance } from 'fastest-levenshtein'
import { flatten, type InspectionRecord } from '../record/schema.ts'
import { type Correction, standing } from './correction.ts'
import { sameValue } from './find.ts'

/** What the yard file could say so that the same mistake does not happen again. */
export type Lesson =
  /** An own word: a mishearing of a trade term, or a habit ("plates" for frames). */
  | { readonly is: 'word'; readonly said: string; readonly means: string }
  /** Another way in which a hive is said, or heard. */
  | { readonly is: 'hive'; readonly said: string; readonly label: string }

/** A lesson with what it rests on and what it does to the keeper's own corrected notes. */
export interface Proposal {
  readonly lesson: Lesson
  /** Ids of the corrections that it comes from. */
  readonly because: readonly string[]
  /** Share of right readings (F1, 0..1) over the corrected notes, without the lesson and with it. */
  readonly before: number
  readonly after: number
}

/** A note that the keeper has gone through. */
export interface CorrectedNote {
  readonly text: string
  readonly corrections: readonly Correction[]
  /** The record as the keeper left it. */
  readonly corrected: InspectionRecord
  /** The same note read with the yard file as it is and these lessons besides. */
  read(lessons: readonly Lesson[]): InspectionRecord
}

export interface LearnOptions {
  /** Reads a few words by themselves with a lesson tried on them. */
  readonly tryOn: (words: string, lessons: readonly Lesson[]) => InspectionRecord
  /** Terms of the trade that a word may have stood for, one to three words each, the commonest first. */
  readonly terms: readonly string[]
  /** Whether the reader knows a word as one of the trade: it was not misheard, then. */
  readonly isTradeWord: (word: string) => boolean
  /** Lessons that the yard file holds already, and those that the keeper refused. */
  readonly known?: readonly Lesson[]
}

/** Words that carry a sentence: one of them for a term of the trade would turn half the note. */
const CARRIERS = new Set(
  'a an and are as at be but by can did do for from got had has have he her here his i if in into is it its just like me my no not of off oh ok okay on one or our out over see she so some than that the their them then there they this to too two up us was we well were what when which will with yes you your three four five six seven eight nine ten half'.split(
    ' ',
  ),
)

/**
 * What is worth learning from the corrections of these notes, the most telling first. Nothing is proposed that does not
 * raise the share of right readings on the notes, or that lowers it on any of them.
 */
export function proposalsFrom(notes: readonly CorrectedNote[], options: LearnOptions): Proposal[] {
  const found = new Map<string, { lesson: Lesson; because: string[] }>()
  for (const note of notes) {
    for (const correction of standing(note.corrections)) {
      for (const lesson of [...hiveLessons(correction), ...wordLessons(correction, options)]) {
        if (options.known?.some((one) => sameValue(one, lesson))) continue
        const key = JSON.stringify(lesson)
        const one = found.get(key) ?? { lesson, because: [] }
        if (!one.because.includes(correction.id)) one.because.push(correction.id)
        found.set(key, one)
      }
    }
  }
  const before = notes.map((note) => scoreOf(note, []))
  const out: Proposal[] = []
  for (const { lesson, because } of found.values()) {
    const after = notes.map((note) => scoreOf(note, [lesson]))
    if (after.some((count, i) => f1(count) < f1(before[i]!) - 1e-9)) continue
    const proposal = { lesson, because, before: f1(sumOf(before)), after: f1(sumOf(after)) }
    if (proposal.after > proposal.before) out.push(proposal)
  }
  return bestOfEach(out, options.terms)
}

/**
 * Of several terms for one word, the one that explains most, then one that it was a mishearing of (not more than a third
 * of its letters differ), then the commonest.
 */
function bestOfEach(proposals: readonly Proposal[], terms: readonly string[]): Proposal[] {
  const far = ({ lesson }: Proposal): number => {
    if (lesson.is === 'hive') return 0
    const share = unlike(lesson.said, lesson.means)
    return share <= 1 / 3 ? share : 1 + terms.indexOf(lesson.means)
  }
  const ordered = [...proposals].sort(
    (a, b) => b.after - a.after || b.because.length - a.because.length || far(a) - far(b),
  )
  const taken = new Set<string>()
  return ordered.filter(({ lesson, because }) => {
    // Once a word is explained, the other words of the same correction need no explanation.
    const keys = [lesson.said, ...because]
    if (keys.some((key) => taken.has(key))) return false
    for (const key of keys) taken.add(key)
    return true
  })
}

/** Two labels that were one hive: the first is another way of saying the second. */
function hiveLessons(correction: Correction): Lesson[] {
  if (correction.kind !== 'merge') return []
  const { from, into } = correction
  return from === '' || into === '' || /^\d+$/.test(from) ? [] : [{ is: 'hive', said: from, label: into }]
}

/** Terms which, put for one or two of the words that were misunderstood, make the reader read what the keeper said. */
function wordLessons(correction: Correction, options: LearnOptions): Lesson[] {
  const { tryOn } = options
  const wanted =
    correction.kind === 'add'
      ? // The period of a treatment was read off a label, not said.
        correction.field === 'did.treat.withdrawal'
        ? []
        : [{ ...correction.words, field: correction.field, value: correction.value }]
      : correction.kind === 'value'
        ? correction.readings.map(({ words, field }) => ({ ...words, field, value: correction.value }))
        : []
  const out: Lesson[] = []
  for (const { quote, field, value } of wanted) {
    const isRead = (lessons: readonly Lesson[]): boolean =>
      flatten(tryOn(quote, lessons)).some((one) => one.field === field && sameValue(one.value, value))
    if (quote === '' || isRead([])) continue
    for (const said of runsIn(quote, options.isTradeWord)) {
      for (const means of termsFor(said, options.terms)) {
        const lesson: Lesson = { is: 'word', said, means }
        if (isRead([lesson])) out.push(lesson)
      }
    }
  }
  return out
}

/** Any word may be a keeper's own for one of the commonest terms; for a rarer one it must look like it. */
const termsFor = (said: string, terms: readonly string[]): string[] =>
  terms.filter((means, i) => means !== said && (i < COMMONEST || unlike(said, means) <= 1 / 2))
const COMMONEST = 40
/** The share of letters that differ. */
const unlike = (a: string, b: string): number => distance(a, b) / Math.max(a.length, b.length)

/** The runs of one and two words that may be a term misheard or a word of the keeper's own. */
function runsIn(quote: string, isTradeWord: (word: string) => boolean): string[] {
  const words = quote.toLowerCase().match(/[\p{L}\d']+/gu) ?? []
  const isFit = (word: string): boolean =>
    word.length > 2 && !CARRIERS.has(word) && !/^\d/.test(word) && !isTradeWord(word)
  const single = words.filter(isFit)
  const pairs = words.slice(1).flatMap((word, i) => {
    const first = words[i]!
    return isFit(word) || isFit(first) ? [`${first} ${word}`] : []
  })
  return [...new Set([...single, ...pairs])].slice(0, 8)
}

interface Count {
  right: number
  wrong: number
  missed: number
}

/** How well the note would be read, with what the keeper left as the truth. */
function scoreOf(note: CorrectedNote, lessons: readonly Lesson[]): Count {
  const key = ({ hive, frame, side, field, value }: ReturnType<typeof flatten>[number]): string =>
    JSON.stringify([hive, frame, side, field, value])
  const truth = new Map<string, number>()
  for (const reading of flatten(note.corrected)) truth.set(key(reading), (truth.get(key(reading)) ?? 0) + 1)
  const count = { right: 0, wrong: 0, missed: 0 }
  for (const reading of flatten(note.read(lessons))) {
    const left = truth.get(key(reading)) ?? 0
    if (left > 0) {
      count.right++
      truth.set(key(reading), left - 1)
    } else count.wrong++
  }
  for (const left of truth.values()) count.missed += left
  return count
}

const sumOf = (counts: readonly Count[]): Count => {
  const sum = { right: 0, wrong: 0, missed: 0 }
  for (const { right, wrong, missed } of counts) {
    sum.right += right
    sum.wrong += wrong
    sum.missed += missed
  }
  return sum
}

/** A note that says nothing and gives nothing is read well. */
const f1 = ({ right, wrong, missed }: Count): number => {
  if (right + wrong + missed === 0) return 1
  return (2 * right) / (2 * right + wrong + missed)
}
