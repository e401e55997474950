import { type Flag, type InspectionRecord, lessSure, type Reading, type Value } from '../record/schema.ts'
import { decisive } from '../rules/decisive.ts'
import type { YardForRules } from '../rules/settings.ts'
import { choicesFor, type RowAnswer } from './choices.ts'
import type { CorrectedPlace } from './correction.ts'
import { type Placed, placedIn, placeOf, saidAtHives } from './placed.ts'

/** One doubtful value of a question. */
export interface Row {
  /** Ids of the readings that the answer settles: the same thing read for the frame and for its hive is asked once. */
  readonly readings: readonly string[]
  readonly field: string
  readonly value: Value
  readonly unit: Reading['unit']
  readonly place: CorrectedPlace
  readonly quote: string
  readonly start: number
  readonly end: number
  readonly at: number | null
  readonly flag: Flag
  /** 0..1; the least of its readings. */
  readonly confidence: number
  /** More than 0 where another value would change a finding: the graver, the more. */
  readonly weight: number
  /** What a key each answers, the likeliest first. The first is always `as said`. */
  readonly choices: readonly RowAnswer[]
}

/** One look: doubtful values of one hive that were said close together, with the words around them. */
export interface Question {
  /** The same as long as its rows are. */
  readonly id: string
  /** null: the visit as a whole. Rows about the visit may stand in the look at a hive (their own place says so). */
  readonly hive: string | null
  /** In the order in which they were said; at most nine. */
  readonly rows: readonly Row[]
  /** The stretch of the note, and a line before and behind it. */
  readonly words: { readonly before: string; readonly said: string; readonly after: string }
  readonly start: number
  readonly end: number
  /** Seconds into the recording, where known. */
  readonly at: number | null
  /** Other hives that all of it may have been said of, the likeliest first. */
  readonly hives: readonly string[]
  readonly weight: number
  readonly confidence: number
}

export interface AskOptions {
  /** Earlier records, for findings that rest on them. */
  readonly history?: readonly InspectionRecord[]
  readonly yard?: YardForRules | undefined
  /** Most characters of the note in one question: what one screen shows with its context. Default 1500. */
  readonly widest?: number
  /** Most rows in one question, up to nine (a key each). Default nine. */
  readonly rows?: number
}

/** A line of context, in characters. */
const LINE = 90

/**
 * What to ask about a record, in the order in which to ask: first what could change a finding (the gravest first), then
 * hive by hive, those with the least sure values first, in the order in which it was said.
 */
export function questionsFor(record: InspectionRecord, text: string, options: AskOptions = {}): Question[] {
  const { history = [], yard, widest = 1500, rows: most = 9 } = options
  const all = placedIn(record)
  const weights = new Map(decisive(record, history, yard).map(({ reading, weight }) => [reading, weight]))
  const calls = hiveRuns(all)
  const rows = rowsOf(all, weights)
    .map((row) => withChoices(row, text, calls))
    .sort((a, b) => a.start - b.start || a.end - b.end)
  const questions: Question[] = []
  const open = new Map<string | null, Row[]>()
  const close = (hive: string | null): void => {
    const looked = open.get(hive)
    if (looked) questions.push(questionOf(hive, looked, text, calls))
    open.delete(hive)
  }
  for (const row of rows) {
    const { hive } = row.place
    const looked = open.get(hive)
    if (looked && (looked.length >= most || row.end - looked[0]!.start > widest)) close(hive)
    open.set(hive, [...(open.get(hive) ?? []), row])
  }
  for (const hive of [...open.keys()]) close(hive)
  return inOrder(visitJoined(questions, most, widest, (hive, rows) => questionOf(hive, rows, text, calls)))
}

/**
 * What a person who touches some words is shown: the values that lean on them, the sure ones as well, as one question.
 * Undefined where nothing was read from them.
 */
export function questionAbout(
  record: InspectionRecord,
  text: string,
  words: { readonly start: number; readonly end: number },
): Question | undefined {
  const all = placedIn(record)
  const leaning = all.filter(
    ({ reading }) => reading.quote !== '' && reading.start < words.end && words.start < reading.end,
  )
  const calls = hiveRuns(all)
  const rows = rowsOf(leaning, new Map(), 'all')
    .slice(0, 9)
    .map((row) => withChoices(row, text, calls))
  return rows[0] && questionOf(rows.find(({ place }) => place.hive !== null)?.place.hive ?? null, rows, text, calls)
}

/** How many values `questionsFor` would ask about, without what each of them could change. */
export const doubtfulIn = (record: InspectionRecord): number => rowsOf(placedIn(record), new Map()).length

/** What was said of the visit as a whole is mostly a value or two: they go with the look at a hive nearest to them. */
function visitJoined(
  questions: readonly Question[],
  most: number,
  widest: number,
  join: (hive: string, rows: Row[]) => Question,
): Question[] {
  let out = questions.filter(({ hive }) => hive !== null)
  for (const visit of questions.filter(({ hive }) => hive === null)) {
    const width = (one: Question): number => Math.max(one.end, visit.end) - Math.min(one.start, visit.start)
    const host = out
      .filter((one) => one.rows.length + visit.rows.length <= most && width(one) <= widest)
      .sort((a, b) => width(a) - width(b))[0]
    if (!host) out.push(visit)
    else {
      const rows = [...host.rows, ...visit.rows].sort((a, b) => a.start - b.start || a.end - b.end)
      out = out.map((one) => (one === host && host.hive !== null ? join(host.hive, rows) : one))
    }
  }
  return out
}

function inOrder(questions: readonly Question[]): Question[] {
  const least = new Map<string | null, number>()
  for (const { hive, confidence } of questions) least.set(hive, Math.min(least.get(hive) ?? 1, confidence))
  const byHive = (a: Question, b: Question): number =>
    least.get(a.hive)! - least.get(b.hive)! || (a.hive ?? '').localeCompare(b.hive ?? '') || a.start - b.start
  return [...questions].sort((a, b) => b.weight - a.weight || byHive(a, b))
}

type Bare = Omit<Row, 'choices'> & { readonly reading: Reading }

/** Readings (the doubtful ones, or all), those that stand or fall together in one row. */
function rowsOf(
  all: readonly Placed[],
  weights: ReadonlyMap<string, number>,
  which: 'doubtful' | 'all' = 'doubtful',
): Bare[] {
  const rows: Bare[] = []
  const known = new Map<string, number>()
  for (const placed of all) {
    const { reading, hive } = placed
    if (which === 'doubtful' && reading.flag === 'sure') continue
    // that a super stands there follows from what was seen in it, and is put right with that
    if (reading.how === 'derived' && reading.field.startsWith('boxes.')) continue
    const { id, field, value, unit, quote, start, end, at, flag, confidence } = reading
    const weight = weights.get(id) ?? 0
    const key = JSON.stringify([hive, start, end, meant(field, value)])
    const twin = known.get(key)
    if (twin === undefined) {
      known.set(key, rows.length)
      const place = placeOf(placed)
      rows.push({ readings: [id], reading, field, value, unit, place, quote, start, end, at, flag, confidence, weight })
      continue
    }
    const row = rows[twin]!
    const isFiner = (row.place.frame ?? -1) < (placed.frame ?? -1)
    rows[twin] = {
      ...row,
      // The finer place tells the person more.
      ...(isFiner ? { field, value, unit, place: placeOf(placed), reading } : {}),
      readings: [...row.readings, id],
      confidence: Math.min(row.confidence, confidence),
      flag: lessSure(row.flag, flag),
      weight: row.weight + weight,
    }
  }
  return rows
}

/** "Eggs" on a frame and eggs in its hive are one thing to a person. */
function meant(field: string, value: Value): string {
  if (field === 'frame.holds') return `${String(value)}.present yes`
  return `${field} ${JSON.stringify(value).replaceAll('"', '')}`
}

function withChoices({ reading, ...row }: Bare, text: string, calls: readonly Run[]): Row {
  const from = Math.max(0, row.start - LINE)
  const nearby = text.slice(from, row.end + LINE)
  return { ...row, choices: choicesFor(reading, nearby, row.start - from, hivesNear(calls, row.place.hive, row.start)) }
}

/** A stretch of the note in which the readings are of one hive. */
interface Run {
  readonly hive: string
  readonly start: number
  end: number
}

function hiveRuns(all: readonly Placed[]): Run[] {
  const runs: Run[] = []
  for (const { hive, reading } of saidAtHives(all)) {
    const last = runs[runs.length - 1]
    if (last?.hive === hive) last.end = Math.max(last.end, reading.end)
    else runs.push({ hive, start: reading.start, end: reading.end })
  }
  return runs
}

/**
 * The other hives, those spoken of nearest to `at` first; the one spoken of before goes before the one after. Then the
 * numbers next to the hive's own: what was never heard is no hive of the record yet.
 */
function hivesNear(runs: readonly Run[], own: string | null, at: number): string[] {
  const far = ({ start, end }: Run): number => (end <= at ? at - end : (start - at) * 2)
  const others = runs.filter(({ hive }) => hive !== own).sort((a, b) => far(a) - far(b))
  const number = /^(.*?)(\d+)$/.exec(own ?? '')
  const beside = number ? [1, -1].map((step) => `${number[1]}${Number(number[2]) + step}`) : []
  return [...new Set([...others.map(({ hive }) => hive), ...beside.filter((hive) => !hive.endsWith('-1'))])]
}

function questionOf(hive: string | null, rows: readonly Row[], text: string, runs: readonly Run[]): Question {
  const start = Math.min(...rows.map((row) => row.start))
  const end = Math.max(...rows.map((row) => row.end))
  const from = lineBefore(text, start)
  const to = lineAfter(text, end)
  return {
    id: rows.map(({ readings }) => readings[0]).join(' '),
    hive,
    rows,
    words: { before: text.slice(from, start), said: text.slice(start, end), after: text.slice(end, to) },
    start,
    end,
    at: rows.find(({ at }) => at !== null)?.at ?? null,
    hives: hive === null ? [] : hivesNear(runs, hive, start),
    weight: Math.max(...rows.map(({ weight }) => weight)),
    confidence: Math.min(...rows.map(({ confidence }) => confidence)),
  }
}

/** A line's length back, from the beginning of a word. */
function lineBefore(text: string, start: number): number {
  if (start <= LINE) return 0
  const at = text.slice(start - LINE, start).search(/\s\S/)
  return at < 0 ? start - LINE : start - LINE + at + 1
}

function lineAfter(text: string, end: number): number {
  if (end + LINE >= text.length) return text.length
  const at = text.slice(end, end + LINE).search(/\s\S*$/)
  return at < 0 ? end + LINE : end + at
}
