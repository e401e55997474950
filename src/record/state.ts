import type { AmountsBefore } from '../clauses/clause.ts'
import type { HeardBefore } from '../clauses/reader.ts'
import type { HiveCall } from '../hives/follower.ts'
import type { Value } from './schema.ts'

/** A value as it was read, with its place and all that confidence is computed from. The fold appends; it seldom changes. */
export interface Draft {
  readonly field: string
  value: Value
  hive: string
  box: BoxPlace | null
  frame: number | null
  side: 'A' | 'B' | null
  how: 'stated' | 'carried' | 'derived'
  evidence: { start: number; end: number; by: string; taken?: string }[]
  alternatives: { value: Value; why: string; start: number; end: number }[]
  /** Of the words and what stands around them; never written to, so that copies of a draft may share them. */
  features: Readonly<Record<string, number>>
  /** What only the note as a whole shows; where the draft is settled. */
  inNote?: Record<string, number>
  at: number | null
  /** Set when later words took it back or replaced it. */
  dead: string | null
  entry?: number
  detail?: string
  /** The unit that was said, when the value was converted. */
  saidIn?: string
  /** Number of the utterance. */
  turn: number
  /** Where in the text the hive in hand was called. */
  hiveAt?: number
  /** And where the call begins that took it in hand, if one did. */
  callAt?: number
}

/** Adds to what tells right from wrong in a draft. */
export function addFeature(draft: Draft, name: string, size: number): void {
  draft.features = { ...draft.features, [name]: size }
}

export interface BoxPlace {
  readonly role: 'super' | 'brood'
  /** From the entrance up; may be set later, when the number of boxes becomes known. */
  ordinal: number | null
  /** Said as "top", "bottom", "middle". */
  readonly said?: 'top' | 'bottom' | 'middle' | 'next'
  /** Nobody said which box: it was concluded. */
  readonly guessed?: boolean
}

/** What a question asked about, waiting for its answer. */
export interface Pending {
  readonly field: string | null
  readonly value: Value | null
  readonly topic: string | null
  readonly turn: number
  readonly start: number
  readonly end: number
  readonly by: string
  /** It asked whether one thing pointed at is such a thing ("is that a cell?"). */
  readonly pointing?: boolean
  /** What else the same words asked ("is that a charged cell?"). */
  readonly also?: readonly { readonly field: string; readonly value: Value }[]
}

/** One hive's running facts that later words lean on. */
export interface HiveMemory {
  supers: number | null
  broods: number | null
  frames: number | null
}

/** All that the fold remembers. Its size does not grow with the note, but for `drafts`. */
export interface State {
  turn: number
  hives: string[]
  group: string[]
  hive: string
  named: boolean
  /** What a pair of bare numbers counts, where the speaker said so once ("count is bees then brood"). */
  legend: readonly string[] | null
  /** Hives announced by number ("41 to 52", "eight hives"): a bare number may be the first of them. */
  expected: [number, number] | null
  /** What calls a hive and what only might have, in order of place, as the whole note shows it; the first not reached, and up to which place. */
  calls: readonly HiveCall[]
  nextCall: number
  callsTo: number
  /** Where the call of the hive in hand begins. */
  callAt: number | null
  /** How hives are called in this note: "hive 3", "number 3", by name, by bare numbers, or by order ("the second one"). */
  calledBy: 'hive' | 'number' | 'name' | 'bare' | 'order' | null
  lastHive: string | null
  memory: Map<string, HiveMemory>
  box: BoxPlace | null
  /** The utterance in which a super was the box named last, if it was. */
  superSaid: number | null
  frame: number | null
  frames: number[]
  /** A frame is in hand, numbered or not. */
  inHand: boolean
  /** How many frames were called in this hive: the first one may be spoken of in passing ("saw her on frame seven"). */
  framesCalled: number
  /** The frames of the box in hand in the order in which they were called. */
  called: readonly number[]
  /** What was decided last on a comb of honey: to take it or not. */
  verdict: 'yes' | 'no' | null
  side: 'A' | 'B' | null
  bothSides: boolean
  /** How many drafts there were when the frame in hand was turned over. */
  turnedAt: number
  /** Frames are called in rising order, or falling from the far wall. */
  stride: 1 | -1
  /** What the last number in a row counted: walking frames, or going from hive to hive. */
  walk: 'frames' | 'hives' | null
  topic: string | null
  topicTurn: number
  pending: Pending | null
  /** Reads to what "no, six" and "scratch that" refer. */
  last: Draft[]
  lastContent: string | null
  contentTurn: number
  drafts: Draft[]
  emittedInTurn: number
  /** Fields that were given a value anywhere so far. */
  given: Set<string>
  /** Kind of the last feed or treatment, for "the same". */
  lastKind: Record<string, string>
  entries: number
  /** What is done to hive after hive and said once: how mites are counted, of how many bees, what they are treated with. */
  round: { readonly method: Value | null; readonly bees: Value | null; readonly med: string | null }
  /** It was said to be cold: so many degrees are °F, where they would be a heat in °C. */
  cold: boolean
  /** Standing that runs on from the last utterance ("last month they had … I saw …"). */
  run: string | null
  noteDate: string | null
  yard: string | null
  /** How the hive in hand was called last, and in which utterance. */
  hiveSaid: { turn: number; at: number; by: 'Word' | 'Name' | 'Order' | 'Number'; back: boolean; repair: number } | null
  /** How strong the evidence of the note is for each word that may be a hive's name and that no yard file gave. */
  nameScores: ReadonlyMap<string, number>
  /** What was said and read before, as far as it bears on an amount. */
  amountsBefore: AmountsBefore
  /** The hive of which that was said. */
  amountsHive: string
  /** What was heard before the utterance in hand, as clauses are weighed. */
  before: HeardBefore
  /** The last words that were heard before the utterance in hand, whatever they were. */
  lastWords: readonly string[]
  /** How misheard the whole note looks, 0 for clear (`strange.ts`). */
  strange: number
}

export function newState(noteDate: string | null): State {
  return {
    turn: 0,
    hives: [],
    group: [],
    hive: '',
    named: false,
    calledBy: null,
    expected: null,
    calls: [],
    nextCall: 0,
    callsTo: 0,
    callAt: null,
    legend: null,
    lastHive: null,
    memory: new Map(),
    box: null,
    superSaid: null,
    frame: null,
    frames: [],
    inHand: false,
    framesCalled: 0,
    called: [],
    verdict: null,
    side: null,
    bothSides: false,
    turnedAt: -1,
    stride: 1,
    walk: null,
    topic: null,
    topicTurn: -1,
    pending: null,
    last: [],
    lastContent: null,
    contentTurn: -1,
    drafts: [],
    emittedInTurn: 0,
    given: new Set(),
    lastKind: {},
    entries: 0,
    cold: false,
    round: { method: null, bees: null, med: null },
    run: null,
    noteDate,
    yard: null,
    hiveSaid: null,
    nameScores: new Map(),
    strange: 0,
    amountsBefore: { shapes: [], roles: [] },
    amountsHive: '',
    before: { words: [], memory: null },
    lastWords: [],
  }
}

/** So many readings back is looked for what was read of late: a live step may not cost more late in a note. */
const LATE = 150

/** What was read of a hive not long before and was not taken back. */
export const latestOf = ({ drafts }: State, hive: string, back = LATE): Draft[] =>
  drafts.slice(-back).filter((draft) => draft.hive === hive && draft.dead === null)

export function memoryOf(state: State, hive: string): HiveMemory {
  let memory = state.memory.get(hive)
  if (!memory) {
    memory = { supers: null, broods: null, frames: null }
    state.memory.set(hive, memory)
  }
  return memory
}

/** One frame was spoken of in passing: no walk over frames has begun. */
export const frameInPassing = (state: State): boolean =>
  state.framesCalled === 1 && state.frame !== null && state.frame > 1 && state.box?.role !== 'super'
