import type { ClauseReader, ClauseSense } from '../clauses/reader.ts'
import { ordinalOf } from '../language/amounts.ts'
import type { Word } from '../language/word.ts'
import type { Cue, Mention } from '../reading/mention.ts'
import { stands } from '../reading/mention.ts'
import { dueDate, isAhead, put } from './emit.ts'
import { sizeOfOdds } from './features.ts'
import { fieldInfo } from './fields.ts'
import { reachCalls } from './hive-calls.ts'
import { addFeature, type Draft, latestOf, type State } from './state.ts'
import { blockedBy, mark, type Turn } from './turn.ts'

/** What follows one of these is not told as seen. */
const AHEAD = /^(after|once|when|whenever|until|till|before|if|unless)$/
/** From these log odds on a clause is taken to say a fact: as likely as not where no line of the grammar read anything in it, and beside what one read. */
const TELLS = { alone: 0, beside: 1 } as const
/** So many letters may pass without anything read or a hive called before talk counts as other talk, in which a clause alone tells nothing. */
const NEAR = 400

/**
 * Puts down what a clause most likely says where no line of the grammar read it. `standing` gives the cues over some words. Such a
 * reading is never sure, and gives way to what was read: it only fills in.
 */
export function putLikely(
  turn: Turn,
  sense: ClauseSense,
  clauses: ClauseReader,
  standing: (from: number, to: number) => readonly Cue[],
): void {
  const { clause } = sense
  const { words } = turn.utterance
  const [start, end] = [words[clause.from]!.start, words[clause.to - 1]!.end]
  const here = turn.emitted.filter((draft) => restsOn(draft, start, end))
  const told = clauses.likely(sense, here.length > 0 ? TELLS.beside : TELLS.alone)
  if (told.length === 0 || !isTalkOfBees(turn.state, start)) return
  for (const { fact } of told) {
    const { field: asTold, value: said } = clauses.facts[fact]!
    let field = asTold
    if (!fieldInfo(field) || here.some((draft) => draft.field === field || isRival(field, draft.field))) continue
    // numbers that were said come by themselves (`putAmounts`)
    if (said === '#') continue
    const { from, to } = clauses.restsOn(sense, fact)
    if (words.slice(clause.from, from + 1).some(({ norm }) => AHEAD.test(norm))) continue
    if (/^(did|todo)\./.test(field) && hangsOn(turn, clause.from)) continue
    take(turn, from, to, standing(from, to))
    // what sounds like a deed is one to come where its time is
    if (/^did\.\w+$/.test(field) && isAhead(turn, false)) field = field.replace('did.', 'todo.')
    if (!fieldInfo(field) || !tellsHere(turn.mention, field)) continue
    const { mention } = turn
    const isDue = said === 'due' || field !== asTold
    const value = isDue ? (dueDate(turn) ?? 'yes') : /^\d+$/.test(said) ? Number(said) : said
    reachCalls(turn, mention.start)
    if (isKnown(turn.state, field)) continue
    const { last } = turn.state
    const drafts = put(turn, field, value, `clauses:${asTold}=${said}`, { features: { likely: 1 } })
    // what is said next leans on what was read for certain
    if (here.length > 0) turn.state.last = last
    here.push(...drafts)
    mark(turn, mention, 'evidence', 'affirmed', drafts)
  }
}

/** Takes some words for the mention in hand. */
function take(turn: Turn, from: number, to: number, cues: readonly Cue[]): void {
  const { words } = turn.utterance
  turn.mention = {
    from,
    to,
    start: words[from]!.start,
    end: words[to - 1]!.end,
    meanings: [],
    pieces: [],
    standing: cues.filter(({ kind }) => kind !== 'denied'),
    cost: words.slice(from, to).reduce((sum, { cost }) => sum + cost, 0),
  }
}

/** Whether a mention tells a field of this visit, as it stands. */
function tellsHere(mention: Mention, field: string): boolean {
  if (blockedBy(mention) || stands(mention.standing, 'question')) return false
  return field.startsWith('todo.') || !stands(mention.standing, 'planned')
}

/** From these log odds on an amount is taken for one of a field. */
const COUNTS = -0.7

/**
 * Puts down of what each amount of a clause most likely is one where no line of the grammar read it: a clause may hold several
 * ("one is ninety five, the other eighty").
 */
export function putAmounts(
  turn: Turn,
  at: number,
  clauses: ClauseReader,
  standing: (from: number, to: number) => readonly Cue[],
): void {
  const { state, senses, emitted } = turn
  const { words } = turn.utterance
  const sense = senses[at]!
  const later = senses.slice(at + 1, at + 4)
  const { clause } = sense
  // what was said of another hive has no bearing
  if (state.amountsHive !== state.hive) state.amountsBefore = { shapes: [], roles: [] }
  state.amountsHive = state.hive
  const { shapes } = state.amountsBefore
  let { roles } = state.amountsBefore
  clause.amounts.forEach(({ amount, token }, which) => {
    const [from, to] = clause.spans[token]!
    const [start, end] = [words[from]!.start, words[to - 1]!.end]
    const read = emitted.find((draft) => typeof draft.value !== 'string' && restsOn(draft, start, end))
    const before = { shapes, roles }
    roles = [read?.field ?? 'none', ...roles]
    if (read) {
      amountFeatures(read, clauses.amountOf(sense, which, before, later))
      return
    }
    if (amount.lo === state.frame || isPlace(words, from, to)) return
    if (turn.marks.some((m) => m.kind === 'place' && m.start < end && m.end > start)) return
    const best = clauses.amountOf(sense, which, before, later)[0]
    if (!best || best.odds < COUNTS) return
    if (!fieldInfo(best.field) || !isTalkOfBees(state, start)) return
    const { field } = best
    take(turn, from, to, standing(from, to))
    if (!tellsHere(turn.mention, field)) return
    const { mention } = turn
    const value = clauses.valueSaid(field, amount)
    reachCalls(turn, start)
    if (isKnown(state, field) || (isPart(words, to) && isToldOfAll(turn, field))) return
    const drafts = put(turn, field, value, `amounts:${field}`, { features: { likely: 1 } })
    roles = [field, ...before.roles]
    mark(turn, mention, 'evidence', 'affirmed', drafts)
  })
  state.amountsBefore = clauses.amountsAfter({ shapes, roles }, sense)
}

/** What the net of amounts says for and against a number that a line read. */
function amountFeatures(read: Draft, likely: readonly { readonly field: string; readonly odds: number }[]): void {
  const own = likely.find(({ field }) => field === read.field)
  if (!own) return
  addFeature(read, own.odds > 0 ? 'amountFor' : 'amountAgainst', sizeOfOdds(own.odds))
}

/**
 * What was read of one thing in a clause tells it: a deed or plan is the one that a line read, what was counted is there, what is on
 * was not put on, mites that were counted are no test to come, and a queen that is marked need not have been seen.
 */
const isRival = (field: string, read: string): boolean =>
  (/^(did|todo)\.\w+$/.test(field) && /^(did|todo)\./.test(read)) ||
  (/^did\.\w+Excluder$/.test(field) && read === 'excluder.present') ||
  (/\.testMites$/.test(field) && read.startsWith('mites.')) ||
  (field === 'queen.seen' && /^queen\.(marked|markColour|clipped)$/.test(read)) ||
  (field.endsWith('.present') && read === `frames.${field.slice(0, -'.present'.length)}`)

/** Whether a reading rests on some of the text between two offsets. */
const restsOn = ({ evidence }: Draft, start: number, end: number): boolean =>
  evidence.some((e) => e.start < end && e.end > start)

/** Whether something was read, or a hive called, not long before. */
function isTalkOfBees({ drafts, hiveSaid }: State, start: number): boolean {
  const last = drafts[drafts.length - 1]?.evidence[0]?.end ?? Number.NEGATIVE_INFINITY
  return start - Math.max(last, hiveSaid?.at ?? Number.NEGATIVE_INFINITY) <= NEAR
}

/** Whether it was read before, there where the talk is: that stays. */
function isKnown(state: State, field: string): boolean {
  const { place, many } = fieldInfo(field)!
  const isDeep = place === 'side' || place === 'frame'
  if (isDeep ? !state.inHand : many) return false
  return latestOf(state, state.hive).some(
    (draft) =>
      draft.field === field &&
      (!isDeep || (draft.frame === state.frame && draft.box?.role === state.box?.role && draft.side === state.side)),
  )
}

/** "Two of those are sealed": a part of what was counted. */
const isPart = (words: readonly Word[], to: number): boolean =>
  words[to]?.norm === 'of' && /^(those|them|these|which)$/.test(words[to + 1]?.norm ?? '')

/** Whether it was said of the hive in hand not long before; and no part is a deed that "came from hive two". */
const isToldOfAll = ({ state, localHives }: Turn, field: string): boolean =>
  (field.startsWith('did.') && localHives !== null) ||
  latestOf(state, state.hive).some((draft) => draft.field === field)

/** "If there's cells, then | I'll split": what was said right before makes a deed or plan hang on something. */
function hangsOn({ state, utterance: { words } }: Turn, from: number): boolean {
  const before = [...state.before.words, ...words.slice(0, from).map(({ norm }) => norm)].slice(-HANGS)
  return before.some((word) => /^(if|unless|whenever)$/.test(word))
}
/** So many words back. */
const HANGS = 6

/** "Frame seven", "drone on seven", "the second": which one, not how many; "14 by 12": how large. */
function isPlace(words: readonly Word[], from: number, to: number): boolean {
  const last = words[to - 1]!.norm
  return (
    /^(frame|comb|bar|number|hive|colony|box|super|on)$/.test(words[from - 1]?.norm ?? '') ||
    ordinalOf(last) !== undefined ||
    /^\d+(st|nd|rd|th)$/.test(last) ||
    words[from - 1]?.norm === 'by' ||
    words[to]?.norm === 'by'
  )
}
