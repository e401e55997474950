import type { ClauseReader, ClauseSense } from '../clauses/reader.ts'
import type { Amount } from '../language/amounts.ts'
import type { SpokenDate } from '../language/dates.ts'
import { Break, type Utterance, type Word } from '../language/word.ts'
import type { Term } from '../reading/lookup.ts'
import { type Meaning, type Mention, type StandingKind, stands } from '../reading/mention.ts'
import type { Draft, State } from './state.ts'

/** What became of some words, for the account. */
export interface Mark {
  readonly start: number
  readonly end: number
  kind: 'evidence' | 'place' | 'remark' | 'talk'
  standing: string
  drafts: Draft[]
  /** Where we were. */
  readonly place: { hive: string; box: string | null; frame: number | null; side: 'A' | 'B' | null; at: number | null }
}

/** One utterance being folded into the state. */
export interface Turn {
  readonly state: State
  readonly utterance: Utterance
  readonly mentions: readonly Mention[]
  readonly marks: Mark[]
  /** Hives named only for the words beside them. */
  localHives: string[] | null
  /** Whether they were named as a source, a goal, or just a place. */
  localBy: 'from' | 'to' | 'at'
  /** How many drafts there were when a place was last named in this utterance. */
  draftsAtPlace: number
  /** The mention being applied. */
  mention: Mention
  /** Index of it among the mentions. */
  index: number
  readonly emitted: Draft[]
  readonly region: Region
  /** Its clauses as the clause model weighs them; none without a model. */
  readonly senses: readonly ClauseSense[]
  readonly clauses: ClauseReader | null
}

/** What the yard says about how people there speak and measure. */
export interface Region {
  readonly temperature: 'C' | 'F' | null
}

/** Kinds of standing under which nothing is a reading of this visit. */
const BLOCKING: readonly StandingKind[] = ['general', 'conditional', 'wish', 'other', 'earlier']

/** Notes what became of a mention's words. */
export function mark(turn: Turn, mention: Mention, kind: Mark['kind'], standing: string, drafts: Draft[]): void {
  const { state } = turn
  turn.marks.push({
    start: mention.start,
    end: mention.end,
    kind,
    standing,
    drafts,
    place: {
      hive: state.hive,
      box: state.box ? `${state.box.role} ${state.box.ordinal ?? 1}` : null,
      frame: state.frame,
      side: state.side,
      at: turn.utterance.at,
    },
  })
}

/** The first blocking cue over a mention. */
export function blockedBy(mention: Mention): StandingKind | null {
  for (const kind of BLOCKING) if (stands(mention.standing, kind)) return kind
  return null
}

/** Whether what is said is told of this visit: no rule, plan, question or the like. It may be denied. */
export const tellsNow = (mention: Mention): boolean =>
  !blockedBy(mention) && !stands(mention.standing, 'planned') && !stands(mention.standing, 'question')

/** Whether a word names a box of honey. */
export const isSuperWord = ({ norm }: Word): boolean => /^(super|supers|ideal|ideals|honeybox)$/.test(norm)

export const words = (turn: Turn): readonly Word[] => turn.utterance.words

/** The amount that a meaning captured under `n`, `nf`, …, if any. */
export function amountOf(meaning: Meaning, name?: string): Amount | undefined {
  for (const key of name ? [name] : ['nf', 'n', 'int', 'frac', 'pct', 'ord']) {
    const hit = meaning.captures[key]
    if (hit) return hit.value as Amount
  }
  return undefined
}

export function termOf(meaning: Meaning, name: string): string | undefined {
  const hit = meaning.captures[name]
  if (!hit) return undefined
  return typeof hit.value === 'string' ? hit.value : (hit.value as Term).value
}

export const dateOf = (meaning: Meaning): SpokenDate | undefined =>
  meaning.captures.date?.value as SpokenDate | undefined

/** A number or range as a reading's value. */
export const amountValue = (amount: Amount): number | [number, number] =>
  amount.hi > amount.lo ? [amount.lo, amount.hi] : amount.lo

/** Whether the words from `from` on begin a clause. */
export function clauseBegins(all: readonly Word[], from: number): boolean {
  let i = from
  while (i > 0 && all[i - 1]!.filler && all[i]!.brk < Break.soft) i--
  return i === 0 || all[i]!.brk >= Break.inferred
}

/** Whether the words before `to` end a clause. */
export const clauseEnds = (all: readonly Word[], to: number): boolean =>
  all[to] === undefined || all[to]!.brk >= Break.inferred

/** Whether from..to is all that the words say, fill words aside. */
export const areAll = (all: readonly Word[], from: number, to: number): boolean =>
  all.every((word, i) => (i >= from && i < to) || word.filler)

export const beginsClause = (turn: Turn, mention: Mention): boolean => clauseBegins(words(turn), mention.from)
export const endsClause = (turn: Turn, mention: Mention): boolean => clauseEnds(words(turn), mention.to)

export const nextWord = (turn: Turn, mention: Mention): string => words(turn)[mention.to]?.norm ?? ''
export const previousWord = (turn: Turn, mention: Mention): string => words(turn)[mention.from - 1]?.norm ?? ''

/** Whether the words of the clause around a mention contain one of `norms`. */
export function clauseHas(turn: Turn, mention: Mention, norms: ReadonlySet<string>): boolean {
  const all = words(turn)
  let from = mention.from
  while (from > 0 && all[from]!.brk < Break.soft) from--
  for (let i = from; i < all.length && (i < mention.to || all[i]!.brk < Break.soft); i++)
    if (norms.has(all[i]!.norm)) return true
  return false
}

/** Whether the words just before a mention point at one thing: "is that a …", "are those …". */
export function pointsAt(turn: Turn, mention: Mention): boolean {
  const all = words(turn)
  for (let i = mention.to - 1; i >= 1 && i >= mention.from - 4; i--)
    if (/^(that|this|those|these|it)$/.test(all[i]!.norm) && /^(is|are|'s|was)$/.test(all[i - 1]!.norm)) return true
  return false
}
