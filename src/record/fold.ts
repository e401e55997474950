import type { ClauseReader } from '../clauses/reader.ts'
import type { Grammar } from '../grammar/grammar.ts'
import { Break, type Utterance, type Word } from '../language/word.ts'
import { findMentions } from '../reading/find.ts'
import type { Names } from '../reading/lookup.ts'
import { type Meaning, type Mention, stands } from '../reading/mention.ts'
import { applyAct } from './acts.ts'
import { boxShare } from './amounts.ts'
import { emitGive, fill } from './emit.ts'
import { feedAmount } from './feed-amount.ts'
import { reachCalls } from './hive-calls.ts'
import { putAmounts, putLikely } from './likely.ts'
import { applyPlace, boxNamed } from './place.ts'
import { countedAs, noteMed } from './round.ts'
import { holds, possible } from './setting.ts'
import type { State } from './state.ts'
import { amountOf, blockedBy, type Mark, mark, type Region, type Turn } from './turn.ts'
import { cropTotal, verdict } from './verdict.ts'

export interface FoldContext {
  readonly grammar: Grammar
  readonly names: Names
  readonly region: Region
  /** What clauses say by their words; null: only what the lines of the grammar read. */
  readonly clauses: ClauseReader | null
}

/**
 * Hears one utterance: finds its mentions, applies them in the order in which they bear on each other, and returns what
 * became of the words. The cost does not depend on how much was heard before.
 */
export function step(state: State, utterance: Utterance, context: FoldContext): Mark[] {
  state.turn++
  state.emittedInTurn = 0
  if (utterance.words.filter((word) => !word.filler).length <= 1) holdTopics(state)
  if (utterance.suspect) return []
  if (state.turn <= 8 && utterance.words.some(({ norm }) => COLD.test(norm))) state.cold = true
  const { mentions: found, standing } = findMentions(
    utterance,
    context.grammar,
    context.names,
    (line, from, to, facts) => possible(line, state, utterance.words, from, to, facts),
    state.run,
  )
  const mentions = inOrder(found, utterance)
  const { clauses } = context
  const sensed = clauses?.senses(utterance.words, state.before)
  const senses = sensed?.senses ?? []
  state.run = runsOn(mentions, utterance)
  const turn: Turn = {
    state,
    utterance,
    mentions,
    marks: [],
    localHives: null,
    localBy: 'at',
    mention: mentions[0]!,
    index: 0,
    emitted: [],
    draftsAtPlace: -1,
    region: context.region,
    senses,
    clauses,
  }
  let done = 0
  /** Clauses that end before a word have been read by the lines of the grammar: what else they say comes now. */
  const fillUpTo = (word: number): void => {
    for (; clauses && done < senses.length && senses[done]!.clause.to <= word; done++) {
      putLikely(turn, senses[done]!, clauses, standing)
      putAmounts(turn, done, clauses, standing)
    }
  }
  // a place said behind its value applies before it: a clause is read when nothing in it is left
  const from = mentions.map((mention) => mention.from)
  for (let i = from.length - 2; i >= 0; i--) from[i] = Math.min(from[i]!, from[i + 1]!)
  mentions.forEach((mention, index) => {
    fillUpTo(from[index]!)
    turn.index = index
    applyMention(turn, mention)
  })
  fillUpTo(utterance.words.length)
  if (boxNamed(utterance.words, state)) state.superSaid = state.turn
  state.lastWords = [...state.lastWords, ...utterance.words.slice(-LAST_WORDS).map(({ norm }) => norm)].slice(
    -LAST_WORDS,
  )
  if (senses.length > 0) state.before = sensed!.heard
  reachCalls(turn, utterance.end + 1)
  return turn.marks
}

/** So many words of before are remembered. */
const LAST_WORDS = 8

const COLD = /^(cold|colder|chilly|freezing|frost|frosty|snow|snowing|sleet|nippy|bitter)$/

/** The grammar line of a story that reaches the last words of an utterance and may go on in the next. */
function runsOn(mentions: readonly Mention[], utterance: Utterance): string | null {
  const end = utterance.words.length
  for (const mention of mentions)
    for (const cue of mention.standing) if (cue.kind === 'earlier' && cue.run && cue.to >= end) return cue.by
  return null
}

/** One word alone ("No." "Okay.") does not make a topic older. */
function holdTopics(state: State): void {
  state.topicTurn++
  state.contentTurn++
  if (state.pending) state.pending = { ...state.pending, turn: state.pending.turn + 1 }
}

function applyMention(turn: Turn, mention: Mention): void {
  turn.mention = mention
  reachCalls(turn, mention.start)
  const before = turn.emitted.length
  const meaning = mention.meanings.find((m) => holds(m.entry.line, turn, mention) && !fails(turn, mention, m))
  if (!meaning) {
    for (const piece of mention.pieces) applyMention(turn, piece)
    return
  }
  // a name or number that calls a hive and begins a phrase of something else
  if (meaning.entry.line.place?.hive === undefined && meaning.entry.line.act !== 'amount')
    reachCalls(turn, mention.start + 1)
  const moved = applyMeaning(turn, mention, meaning)
  if (turn.emitted.slice(before).some((draft) => draft.field === 'mites.count'))
    countedAs(turn, mention, meaning.entry.id)
  feedAmount(turn, mention, turn.emitted.slice(before), meaning.entry.id)
  const drafts = turn.emitted.slice(before)
  const kind =
    drafts.length > 0
      ? 'evidence'
      : moved
        ? 'place'
        : meaning.entry.gives.length > 0 || meaning.entry.line.topic
          ? 'remark'
          : 'talk'
  mark(turn, mention, kind, standingName(mention), drafts)
}

/** Whether a meaning that only its own act can tell to be possible is not; where it is possible, the act is done with. */
const fails = (turn: Turn, mention: Mention, meaning: Meaning): boolean => {
  const act = MAY_FAIL[meaning.entry.line.act ?? '']
  return act !== undefined && !act(turn, mention, meaning)
}

const MAY_FAIL: Readonly<Record<string, (turn: Turn, mention: Mention, meaning: Meaning) => boolean>> = {
  verdict,
  cropTotal,
  boxshare: boxShare,
}

/** The weightiest standing of a mention, by name. */
function standingName(mention: Mention): string {
  const block = blockedBy(mention)
  if (block) return block
  for (const kind of ['question', 'planned', 'denied', 'hedged'] as const)
    if (stands(mention.standing, kind)) return kind
  return 'affirmed'
}

function applyMeaning(turn: Turn, mention: Mention, meaning: Meaning): boolean {
  const { state } = turn
  const { line, gives } = meaning.entry
  let moved = false
  if (line.place && !placeBlocked(mention, line.place.local !== undefined)) moved = applyPlace(turn, mention, meaning)
  if (line.act) applyAct(turn, mention, meaning, line.act)
  for (const give of gives) emitGive(turn, give, meaning)
  if (meaning.captures.dmed) noteMed(turn, mention, meaning)
  if (line.topic) {
    state.topic = fill(line.topic, meaning) ?? null
    state.topicTurn = state.turn
  }
  return moved
}

/** Nobody moves on in a story or over somebody else's bees; and in a rule or a condition no place is meant in passing. */
const placeBlocked = (mention: Mention, local: boolean): boolean => {
  const block = blockedBy(mention)
  return block === 'earlier' || block === 'other' || (local && (block === 'general' || block === 'conditional'))
}

/**
 * The order in which mentions apply: as said, except that a place said behind its value ("four beetles under the lid of
 * hive two", "95 this side and 20 on the other") applies before it.
 */
function inOrder(mentions: Mention[], utterance: Utterance): Mention[] {
  const out = [...mentions]
  let clauseStart = 0
  for (let k = 0; k <= out.length; k++) {
    const cut = k === out.length || (k > 0 && clauseBetween(utterance, out[k - 1]!, out[k]!))
    if (!cut) continue
    reorder(out, clauseStart, k, utterance.words)
    clauseStart = k
  }
  return out
}

function clauseBetween(utterance: Utterance, a: Mention, b: Mention): boolean {
  // a border that was only inferred before "this side" does not tell whether the value stands before or behind its side
  const from = isSide(b) ? Break.soft : Break.inferred
  for (let i = a.to; i <= b.from; i++) if (utterance.words[i]!.brk >= from) return true
  return false
}

const isSide = (m: Mention): boolean =>
  m.meanings.some(
    (x) =>
      x.entry.line.place?.side !== undefined &&
      x.entry.line.place.frame === undefined &&
      x.entry.line.place.side !== 'flip',
  )
const isTrailing = (m: Mention): boolean => m.meanings.some((x) => x.entry.line.place?.local !== undefined)
const isPlace = (m: Mention): boolean => m.meanings.some((x) => x.entry.line.place !== undefined)

/** A whole number small enough to be a frame's. */
function callsFrame(mention: Mention): boolean {
  const amount = mention.meanings.filter((x) => x.entry.line.act === 'amount').map((x) => amountOf(x))[0]
  return amount !== undefined && amount.kind === 'integer' && !amount.percent && amount.hi <= 12
}

/** A share of a face, or "the same". */
const isShare = (m: Mention): boolean =>
  m.meanings.some(
    ({ entry: { line, gives } }) =>
      /^(amount|capshare|same)$/.test(line.act ?? '') || gives.some((g) => /^(honey|comb|brood)\./.test(g.field)),
  )

/** "Half capped, other side nearly all": the last side has its own share behind it, so each stands before its own. */
function sidesLead(clause: readonly Mention[], firstSide: number, words: readonly Word[]): boolean {
  const shared = clause.slice(0, firstSide).some(isShare)
  const side = clause[firstSide]!
  if (shared && (words[side.from]!.norm === 'on' || words[side.to]?.norm === 'and')) return false
  const last = clause.findLastIndex(isSide)
  return (shared || last > firstSide) && clause.slice(last + 1).some(isShare)
}

function reorder(list: Mention[], from: number, to: number, words: readonly Word[]): void {
  const clause = list.slice(from, to)
  const firstSide = clause.findIndex(isSide)
  const sidesTrail =
    firstSide > 0 && clause.slice(0, firstSide).some((m) => !isPlace(m)) && !sidesLead(clause, firstSide, words)
  const out: Mention[] = []
  let anchor = 0
  // "7's 40 on this side": the first of two numbers calls the frame
  const calls = clause.findIndex((m) => !isPlace(m))
  if (sidesTrail && callsFrame(clause[calls]!) && firstSide > calls + 1) {
    out.push(...clause.splice(0, calls + 1))
    anchor = calls + 1
  }
  for (const mention of clause) {
    if ((isSide(mention) && sidesTrail) || (isTrailing(mention) && out.length > anchor)) {
      out.splice(anchor, 0, mention)
      anchor = out.length
    } else {
      if (isPlace(mention)) {
        out.push(mention)
        anchor = out.length
      } else out.push(mention)
    }
  }
  for (let i = 0; i < out.length; i++) list[from + i] = out[i]!
}
