import type { HiveCall } from '../hives/follower.ts'
import { CERTAIN } from '../hives/margin.ts'
import { Break, isUnmarked, type Word } from '../language/word.ts'
import type { Meaning, Mention, StandingKind } from '../reading/mention.ts'
import { leading } from '../span.ts'
import { fieldInfo } from './fields.ts'
import type { Draft, State } from './state.ts'
import { amountOf, type Turn } from './turn.ts'

/**
 * What tells right values from wrong ones, as numbers of about 0 to 1 that a person can follow: how the words were said,
 * how the hive in hand was called, and how well the whole note hangs together. `confidence.ts` weighs them; nothing here
 * changes a reading.
 */
export type Features = Record<string, number>

const round = (x: number): number => Math.round(x * 100) / 100
const add = (out: Features, name: string, size: number): void => {
  if (size !== 0 && Number.isFinite(size)) out[name] = round(size)
}

/** The features of the words themselves, their clause and their utterance. */
export function saidFeatures(turn: Turn, mention: Mention, meaning: Meaning | undefined, ofVisit: boolean): Features {
  const { state, utterance } = turn
  const out: Features = {}
  add(out, 'repair', Math.min(2, mention.cost))
  const cues = new Set(mention.standing.map((cue) => cue.kind))
  for (const kind of ['hedged', 'denied', 'firm'] as const) if (cues.has(kind)) out[kind] = 1
  engineFeatures(out, turn, mention)
  if (deniedAcross(turn, mention)) out.deniedAcross = 1
  const size = sizeOf(utterance.words, mention)
  if (size === 1) out.oneWord = 1
  else if (size === 2) out.twoWords = 1
  else add(out, 'manyWords', Math.min(1, (size - 3) / 4))
  if (meaning?.entry.line.act === 'amount') out.bareNumber = 1
  if (meaning?.entry.line.act === 'yes' || meaning?.entry.line.act === 'no') out.answer = 1
  if (meaning?.entry.line.when !== undefined) out.leansOnSetting = 1
  if (Object.keys(meaning?.captures ?? {}).some((name) => amountOf(meaning!, name)?.homophone)) out.homophone = 1
  nearFeatures(out, turn, mention)
  if (!ofVisit) placeFeatures(out, turn)
  const spoken = utterance.words.filter((word) => !word.filler)
  add(out, 'longUtterance', Math.min(1.5, Math.max(0, spoken.length - 8) / 12))
  add(out, 'unread', unreadShare(turn))
  if (hasNoMark(utterance.words)) out.unmarked = 1
  if (utterance.speaker !== null) out.dialogue = 1
  if (mention.meanings.length > 1) out.ambiguous = 1
  if (state.topicTurn >= 0 && state.turn - state.topicTurn > 3 && state.frame !== null) out.far = 1
  return out
}

/** How large log odds for and against count at most. */
const MOST = { for: 5, against: 9 } as const
/** Log odds for something, or against it, as a feature. */
export const sizeOfOdds = (odds: number): number => Math.min(1, odds > 0 ? odds / MOST.for : -odds / MOST.against)

/**
 * What the words of the whole clause say for or against a value (`clauses/`): `clauseFor` and `clauseAgainst`, or `clauseSilent`
 * where the model does not know the fact.
 */
export function clauseFeatures({ senses, clauses }: Turn, mention: Mention, field: string, value: unknown): Features {
  const sense = senses.find(({ clause }) => mention.from >= clause.from && mention.from < clause.to)
  const odds = sense && clauses?.oddsFor(sense, field, value)
  if (odds === undefined) return { clauseSilent: 1 }
  const out: Features = {}
  add(out, odds > 0 ? 'clauseFor' : 'clauseAgainst', sizeOfOdds(odds))
  return out
}

/** Words that the mention takes, fill words aside. */
function sizeOf(words: readonly Word[], mention: Mention): number {
  let n = 0
  for (let i = mention.from; i < mention.to; i++) if (!words[i]!.filler) n++
  return n
}

/** Seconds without a word behind which a denial no longer holds for certain. */
const GAP = 4

/** Whether a pause stands between a denial and the words that it denies: what was said there may be lost. */
function deniedAcross({ utterance: { words } }: Turn, mention: Mention): boolean {
  const hasGap = (from: number, to: number): boolean => {
    for (let i = from; i < to; i++) {
      const [here, next] = [words[i]?.at, words[i + 1]?.at]
      if (here !== undefined && next !== undefined && next - here >= GAP) return true
    }
    return false
  }
  for (let i = mention.from; i < mention.to - 1; i++)
    if (NOT.has(words[i]!.norm) && hasGap(i, mention.to - 1)) return true
  return mention.standing.some(
    ({ kind, at: [from] }) =>
      kind === 'denied' && (from < mention.from ? hasGap(from, mention.from) : hasGap(mention.to - 1, from)),
  )
}

/** The engine's doubt; one number for a whole stretch says little about one word. */
function engineFeatures(out: Features, { utterance }: Turn, mention: Mention): void {
  const all = utterance.words.flatMap((word) => word.confidence ?? [])
  if (all.length === 0) return
  // a "no" that was hardly heard, or stands before a gap in time, may never have been said of these words
  const denials = mention.standing.filter(({ kind }) => kind === 'denied')
  const cues = denials.flatMap(({ at: [from, to] }) => utterance.words.slice(from, to))
  const own = [...utterance.words.slice(mention.from, mention.to), ...cues].flatMap((word) => word.confidence ?? [])
  if (own.length === 0) return
  const isShared = all.length > 2 && all.every((c) => c === all[0])
  add(out, isShared ? 'unsureStretch' : 'unsureEngine', 1 - Math.min(...own))
}

/** Words that tell of a clause, with what they tell. */
const NEAR = {
  nearPast: 'was|were|had|did|ago|last|used|before|previous|previously|earlier|been',
  nearAhead:
    "will|going|gonna|'ll|next|need|needs|want|wants|should|tomorrow|later|plan|planning|must|shall|ought|until|till",
  nearIf:
    'if|unless|when|would|could|might|may|because|whether|maybe|probably|hopefully|usually|always|often|every|sometimes|can',
  nearAsk: 'what|how|where|who|which|why|any',
  nearMore: 'more|another|extra|other|others|spare|else|same|each|every|per',
  nearOthers: 'he|him|his|you|your|they|people|neighbour|neighbor|mate|friend|someone|somebody|everybody|folks',
  nearNot: 'not|no|never|nothing|none|without|nor|neither|hardly|barely|cannot',
  nearTurn: 'but|though|although|instead|rather|actually|except|only|just|sorry|wait|scratch',
} as const
const NOT: ReadonlySet<string> = new Set(NEAR.nearNot.split('|'))
const NEAR_BY_WORD = new Map<string, string[]>()
for (const [name, words] of Object.entries(NEAR))
  for (const word of words.split('|')) NEAR_BY_WORD.set(word, [...(NEAR_BY_WORD.get(word) ?? []), name])

const STANDING: Partial<Record<StandingKind, string>> = {
  planned: 'cuePlan',
  question: 'cueQuestion',
  conditional: 'cueRule',
  general: 'cueRule',
  wish: 'cueRule',
  earlier: 'cueEarlier',
  other: 'cueOther',
}

/** Cues that stand about in the utterance though they do not cover the words, and telling words of their clause. */
function nearFeatures(out: Features, turn: Turn, mention: Mention): void {
  for (const other of turn.mentions)
    for (const cue of other.standing)
      if (STANDING[cue.kind as StandingKind]) out[STANDING[cue.kind as StandingKind]!] = 1
  const { words } = turn.utterance
  if (words[words.length - 1]!.mark === '?') out.cueQuestion = 1
  const [from, to] = clauseAround(words, mention)
  for (let i = from; i < to; i++) {
    const inside = i >= mention.from && i < mention.to
    for (const name of NEAR_BY_WORD.get(words[i]!.norm) ?? []) if (!inside || name === 'nearMore') out[name] = 1
  }
}

/** The clause around a mention, ten words to either side at most. */
function clauseAround(words: readonly Word[], mention: Mention): [number, number] {
  let from = mention.from
  while (from > 0 && mention.from - from < 10 && words[from]!.brk < Break.soft) from--
  let to = mention.to
  while (to < words.length && to - mention.to < 10 && words[to]!.brk < Break.soft) to++
  return [from, to]
}

/** How the hive and the frame in hand were called, and how long ago. */
function placeFeatures(out: Features, turn: Turn): void {
  const { state } = turn
  if (turn.localHives !== null) out.hiveBeside = 1
  else if (state.hiveSaid !== null) {
    const ago = state.turn - state.hiveSaid.turn
    if (ago === 0) out.hiveHere = 1
    else add(out, 'hiveAgo', Math.min(1.5, Math.log(1 + ago) / 3))
    out[`hiveBy${state.hiveSaid.by}`] = 1
    if (state.hiveSaid.back) out.backToHive = 1
    add(out, 'hiveRepair', Math.min(1, state.hiveSaid.repair))
  }
  if (turn.localHives === null && state.group.length > 1) out.severalHives = 1
  if (state.frames.length > 1) out.severalFrames = 1
  if (state.inHand && state.frame === null) out.frameUnnumbered = 1
  if (state.inHand) out.frameInHand = 1
  if (state.box?.guessed) out.boxGuessed = 1
}

/** How a hive was called: by a word for hives, its name, its place in the row, or a number alone. */
export function calledBy(
  turn: Turn,
  mention: Mention,
  labels: readonly string[],
): NonNullable<State['hiveSaid']>['by'] {
  const said = turn.utterance.words.slice(mention.from, mention.to).map((word) => word.norm)
  if (said.some((norm) => /^(hive|hives|colony|colonies|number|nuc|nucs)$/.test(norm))) return 'Word'
  if (labels.every((label) => !/\d/.test(label))) return 'Name'
  return mention.meanings.some((x) => x.entry.line.act === 'amount') ? 'Number' : 'Order'
}

/** Whether a hive was done with before: the talk goes back to it, or only names it in passing. */
export function comesBack(state: State, labels: readonly string[]): boolean {
  if (labels.length !== 1 || !state.hives.includes(labels[0]!)) return false
  return labels[0] === state.hive ? (state.hiveSaid?.back ?? false) : true
}

/** The share of the words of an utterance that belong to nothing that was understood. */
function unreadShare({ mentions, utterance }: Turn): number {
  const read = new Set<number>()
  for (const mention of mentions) for (let i = mention.from; i < mention.to; i++) read.add(i)
  let spoken = 0
  let unread = 0
  utterance.words.forEach((word, i) => {
    if (word.filler) return
    spoken++
    if (!read.has(i)) unread++
  })
  return unread / Math.max(4, spoken)
}

/** No mark at all, not even a last one: the engine writes none. */
const hasNoMark = (words: readonly Word[]): boolean => words[words.length - 1]!.mark === '' && isUnmarked(words)

const share = (part: number, whole: number): number => (whole === 0 ? 0 : part / whole)

/** Words with which a keeper leaves a hive. */
const LEAVES =
  /\b(next (hive|one|colony|nuc|box)|(clos|button|pack|wrapp)(e|ed|ing) (it |her |them |that |this )?up|lid('s| is| goes)? (back )?on|roof('s| is)? (back )?on|mov(e|ing) on|on to the|over to|(other|last|second|third|final) (hive|one|colony|nuc)|this one('s| is)?|next up|up next|now for|that's (it|that|her|him|them|one) (done|for)?)/gi
/** Words for hives, which may have been a call that was not understood. */
const HIVES = /\b(hives?|colony|colonies|nucs?|number)\b/gi

/** Where a pattern (with the flag g) is found from `start` on, in rising order. */
function placesOf(text: string, pattern: RegExp, start: number): number[] {
  const out: number[] = []
  pattern.lastIndex = start
  for (let match = pattern.exec(text); match; match = pattern.exec(text)) out.push(match.index)
  return out
}

/** How many of `places` lie from `from` on and before `to`. */
function between(places: readonly number[], from: number, to: number): number {
  const below = (limit: number): number => leading(places, (place) => place < limit)
  return Math.max(0, below(to) - below(from))
}

/** From here up a word may have been a hive's name though it was not taken for one. */
const MAYBE_A_NAME = 1
/** Words for hives that are no names of one. */
const GENERIC = /^(nuc|swarm|other|split|top|bottom|middle|big|little|old|new|spare|teaching|cast)$/

/** Where a text leaves a hive, speaks of hives, or says a word that may be the name of one. It grows with the text. */
export interface HiveWords {
  seen: number
  readonly leaves: number[]
  readonly hives: number[]
  /** Of the words that may be names; looked through anew when those change. */
  names: { readonly of: string; seen: number; readonly places: number[] }
}

export const newHiveWords = (): HiveWords => ({
  seen: 0,
  leaves: [],
  hives: [],
  names: { of: '', seen: 0, places: [] },
})

/** Looks through what is new in a text that may have grown; `passed` are words that may be names. No pattern reaches over a line break. */
export function findHiveWords(found: HiveWords, text: string, passed: readonly string[]): void {
  found.leaves.push(...placesOf(text, LEAVES, found.seen))
  found.hives.push(...placesOf(text, HIVES, found.seen))
  found.seen = text.length
  const of = passed.map((name) => name.replace(/[^\p{L}\p{N} ]/gu, '.')).join('|')
  if (of !== found.names.of) found.names = { of, seen: 0, places: [] }
  if (of !== '') found.names.places.push(...placesOf(text, new RegExp(`\\b(${of})\\b`, 'gi'), found.names.seen))
  found.names.seen = text.length
}

/** Words that may be names of hives and were not taken for them. */
export const passedNames = ({ nameScores, hives }: State): string[] =>
  [...nameScores].filter(([name, score]) => score >= MAYBE_A_NAME && !hives.includes(name)).map(([name]) => name)

/** What the readings of one hive look like, counted. */
export interface Tally {
  readonly readings: number
  readonly clashes: number
  readonly repeats: number
}

/** The settled drafts of a note, hive by hive, counted. */
export function tally(drafts: readonly Draft[]): Map<string, Tally> {
  const out = new Map<string, Tally>()
  for (const { hive, inNote } of drafts) {
    const { readings, clashes, repeats } = out.get(hive) ?? { readings: 0, clashes: 0, repeats: 0 }
    out.set(hive, {
      readings: readings + 1,
      clashes: clashes + (inNote?.conflict ? 1 : 0),
      repeats: repeats + (inNote?.conflict || inNote?.again ? 1 : 0),
    })
  }
  return out
}

/** What the hives of a note look like beside each other. */
interface Hives {
  readonly text: HiveWords
  readonly numbers: ReadonlySet<number>
  readonly last: number
  /** Readings of a hive of middling size. */
  readonly median: number
  /** The share of the announced hives that was never come to. */
  readonly missing: number
}

function hivesOf(tallies: ReadonlyMap<string, Tally>, state: State, text: HiveWords): Hives {
  const numbers = new Set(state.hives.flatMap((hive) => (/^(?:nuc )?(\d+)$/.exec(hive) ?? []).slice(1).map(Number)))
  const [low, high] = state.expected ?? [1, 0]
  const announced = high - low + 1
  const sizes = [...tallies]
    .filter(([hive]) => hive !== '')
    .map(([, { readings }]) => readings)
    .sort((a, b) => a - b)
  return {
    text,
    numbers,
    last: Math.max(high, ...numbers),
    median: sizes[sizes.length >> 1] ?? 0,
    missing: announced > 1 ? Math.max(0, announced - state.hives.length) / announced : 0,
  }
}

/** What is known of a note as a whole when the features of some of its drafts are worked out. */
export interface NoteFacts {
  readonly state: State
  /** Characters that belong to something understood, and all. */
  readonly read: number
  readonly length: number
  readonly words: HiveWords
  /** Of all hives, those of the drafts in question included. */
  readonly tallies: ReadonlyMap<string, Tally>
}

/**
 * What only the whole note shows: whether its hives hang together. Adds to what settled drafts have of it, which are all or
 * those of some hives. `state.nameScores` says how strong the evidence is that a word is a hive's name, for names that no
 * yard file gave.
 */
export function addNoteFeatures(drafts: readonly Draft[], { state, read, length, words, tallies }: NoteFacts): void {
  const byHive = new Map<string, Draft[]>()
  for (const draft of drafts) {
    const here = byHive.get(draft.hive)
    if (here) here.push(draft)
    else byHive.set(draft.hive, [draft])
  }
  const noteUnread = Math.max(0, 0.6 - share(read, length))
  let all = 0
  let clashes = 0
  for (const one of tallies.values()) {
    all += one.readings
    clashes += one.clashes
  }
  const hives = hivesOf(tallies, state, words)
  for (const [hive, here] of byHive) {
    const own = tallies.get(hive)!
    const fields = new Map<string, number>()
    for (const draft of here) fields.set(draft.field, (fields.get(draft.field) ?? 0) + 1)
    for (const draft of here) {
      draft.inNote ??= {}
      const out = draft.inNote
      add(out, 'noteUnread', noteUnread)
      add(out, 'noteStrange', Math.min(2, state.strange))
      add(out, 'sameField', Math.min(1.5, Math.log(fields.get(draft.field)!) / 2))
      add(out, 'noteClashes', Math.min(1, share(clashes - own.clashes, all) * 8))
      if (fieldInfo(draft.field)?.place === 'visit') continue
      add(out, 'hiveClashes', Math.min(1, share(own.clashes - (out.conflict ? 1 : 0), own.readings) * 4))
      add(out, 'hiveRepeats', Math.min(1, share(own.repeats - (out.conflict || out.again ? 1 : 0), own.readings) * 2))
      hiveFeatures(out, draft, own.readings, state, hives)
    }
  }
}

/**
 * How plainly the hive in hand was called, how nearly another one was since, and how much worse the whole note would hang
 * together with another hive in hand; scaled to about 0 to 1.
 */
function addCallFeatures(out: Features, calls: readonly HiveCall[], callAt: number, start: number, hive: string): void {
  let i = leading(calls, (call) => call.start < start)
  let rival = Number.NEGATIVE_INFINITY
  const margin = calls[i - 1]?.margin ?? CERTAIN
  add(out, 'hiveMargin', Math.min(1.5, margin / 4))
  add(out, 'hiveClose', Math.max(0, 1 - margin))
  for (i--; i >= 0 && calls[i]!.start >= callAt; i--) {
    const call = calls[i]!
    if (call.start === callAt && call.taken) add(out, 'hiveWorth', Math.min(1.5, Math.max(0, call.worth) / 4))
    else if (!call.taken && call.kind !== 'local' && call.labels[0] !== hive) rival = Math.max(rival, call.worth)
  }
  add(out, 'hiveRival', Math.min(1.5, Math.max(0, rival + 4) / 4))
}

function hiveFeatures(
  out: Features,
  { hive, hiveAt, callAt, evidence, features }: Draft,
  readings: number,
  state: State,
  hives: Hives,
): void {
  add(out, 'manyHives', Math.min(1.5, Math.log(Math.max(1, state.hives.length)) / 2))
  add(out, 'hivesMissing', hives.missing)
  const start = evidence[0]!.start
  const from = hiveAt ?? 0
  add(out, 'hiveLeft', Math.min(1, between(hives.text.leaves, from, start) / 2))
  add(out, 'hivesBetween', Math.min(1, between(hives.text.hives, from, start) / 4))
  add(out, 'namesBetween', Math.min(1, between(hives.text.names.places, from, start) / 2))
  if (!features.hiveBeside) addCallFeatures(out, state.calls, callAt ?? -1, start, hive)
  add(out, 'namesPassed', Math.min(1, hives.text.names.places.length / 4))
  if (hive === '') {
    out[state.named ? 'noHiveYet' : 'noHiveAtAll'] = 1
    if (state.named && state.hives.filter((other) => other !== '').length === 1) out.oneHiveElsewhere = 1
    return
  }
  add(out, 'hiveThin', 1 / Math.max(1, readings))
  if (state.hives.length > 2)
    add(out, 'hiveFat', Math.min(1.5, Math.max(0, Math.log(readings / Math.max(1, hives.median)) / 1.5)))
  if (GENERIC.test(hive)) out.hiveGeneric = 1
  const number = /^(?:nuc )?(\d+)$/.exec(hive)
  // the hive that should come next never came: what was said of it may stand here
  if (number && Number(number[1]) < hives.last && !hives.numbers.has(Number(number[1]) + 1)) out.nextHiveMissing = 1
  const score = number ? undefined : state.nameScores.get(hive)
  if (score === undefined) return
  out.guessedName = 1
  add(out, 'weakName', Math.max(0, 1 - (score - 2) / 4))
  if (score < 2.5) out.barelyName = 1
}
