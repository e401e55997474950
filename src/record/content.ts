import { type Amount, readAmount } from '../language/amounts.ts'
import { Break } from '../language/word.ts'
import type { Term } from '../reading/lookup.ts'
import { type Mention, stands } from '../reading/mention.ts'
import { askShare, cappedShare } from './capped-share.ts'
import { put } from './emit.ts'
import { percentOf } from './percent.ts'
import { notASuper } from './place.ts'
import { combsOf, inSuper, topicOf } from './setting.ts'
import type { Draft } from './state.ts'
import { amountValue, blockedBy, clauseHas, pointsAt, type Turn, tellsNow } from './turn.ts'

/** What comb can hold, as grammar terms name it, to the fields that it fills. */
const HOLDS: Record<string, string> = {
  eggs: 'eggs',
  larvae: 'larvae',
  cappedBrood: 'cappedBrood',
  droneBrood: 'droneBrood',
  brood: 'brood',
  openBrood: 'larvae',
  honey: 'honey',
  cappedHoney: 'cappedHoney',
  nectar: 'nectar',
  pollen: 'pollen',
  empty: 'empty',
  foundation: 'foundation',
  stores: 'honey',
}
const PRESENT: Record<string, readonly string[]> = {
  eggs: ['eggs.present'],
  larvae: ['larvae.present'],
  openBrood: ['larvae.present'],
  cappedBrood: ['cappedBrood.present'],
  droneBrood: ['droneBrood.present'],
  brood: ['brood.present'],
  stages: ['eggs.present', 'larvae.present', 'cappedBrood.present'],
  openAndCapped: ['larvae.present', 'cappedBrood.present'],
}
const COUNTS: Record<string, string> = {
  eggs: 'eggs',
  larvae: 'openBrood',
  openBrood: 'openBrood',
  cappedBrood: 'cappedBrood',
  droneBrood: 'droneBrood',
  brood: 'brood',
  stages: 'brood',
  honey: 'honey',
  stores: 'honey',
  cappedHoney: 'cappedHoney',
  nectar: 'nectar',
  pollen: 'pollen',
  empty: 'empty',
  foundation: 'foundation',
  bees: 'bees',
  drawn: 'drawn',
}

const SUPERS = new Set(['super', 'supers', 'ideal', 'ideals'])

/** "capped", "sealed" alone: honey in a super, brood in the nest, a cell after cells. */
export function resolveContent(turn: Turn, content: string): string | null {
  if (content !== 'capped') return content
  const { state } = turn
  if (inSuper(state)) return 'cappedHoney'
  // "brood capped"; "drone comb, capped" is said already
  const justSaid = state.contentTurn === state.turn ? state.lastContent : null
  if (justSaid === 'droneBrood') return null
  if (justSaid !== null && /^(brood|cappedBrood|larvae|eggs|openBrood|stages)$/.test(justSaid)) return 'cappedBrood'
  const topic = topicOf(state)
  if (topic === 'cells') return null
  if (topic === 'honey' || state.lastContent === 'honey' || combsOf(state) === 'honey') return 'cappedHoney'
  // "took off the top super, nine frames, all capped": what was named last before the words
  const named = turn.utterance.words
    .slice(0, turn.mention.from)
    .findLast((w) => SUPERS.has(w.norm) || /^(honey|brood|eggs|larvae|queen)$/.test(w.norm))
  if (named && (SUPERS.has(named.norm) || named.norm === 'honey')) return 'cappedHoney'
  return 'cappedBrood'
}

/** Whether a denial bears on something on the comb. Words that hold one themselves are not denied ("not even drawn"). */
function denied(turn: Turn, mention: Mention, content: string): boolean {
  if (!stands(mention.standing, 'denied')) return false
  const own = mention.meanings
    .flatMap((m) => Object.entries(m.captures))
    .find(([name, hit]) => name.startsWith('content') && (hit.value as Term).value === content)?.[1]
  if (own !== undefined && begunAnew(turn, mention, own.start)) return false
  return (
    own === undefined ||
    !turn.utterance.words.slice(own.start, own.end).some((word) => /^(no|not|nothing|never)$/.test(word.norm))
  )
}

/** "No larvae and a bit of capped brood": an amount behind "and" is said of what is there. */
function begunAnew(turn: Turn, mention: Mention, at: number): boolean {
  const said = turn.utterance.words
    .slice(mention.from, at)
    .map((word) => word.norm)
    .join(' ')
  return /\b(and|but) (just )?(a (bit|little|few|patch|scrap|couple|load|lot|good)|some|plenty|loads|lots|only|several|two|three|four)\b/.test(
    said,
  )
}

const LOCAL = new Set(['this', 'that', 'side', 'frame', 'here', 'face', 'one', 'it', 'corner'])
const WHOLE = new Set(['anywhere', 'all', 'hive', 'box', 'yet', 'whole', 'nowhere', 'any'])

/** Something is on the comb, or is said not to be. */
export function emitContent(turn: Turn, mention: Mention, raw: string, by: string): Draft[] {
  const { state } = turn
  const content = resolveContent(turn, raw)
  if (content === null || blockedBy(mention) || stands(mention.standing, 'planned')) return []
  if (stands(mention.standing, 'question') && raw === 'capped' && content === 'cappedHoney') {
    askShare(turn, mention, by)
    return []
  }
  if (stands(mention.standing, 'question')) {
    state.pending = {
      field: `content:${content}`,
      value: 'yes',
      topic: content,
      turn: state.turn,
      start: mention.start,
      end: mention.end,
      by,
      pointing: pointsAt(turn, mention),
    }
    return []
  }
  const out: Draft[] = []
  if (/^(eggs|larvae|openBrood|cappedBrood|brood|stages)$/.test(content)) notASuper(state)
  if (denied(turn, mention, raw)) return emitAbsence(turn, mention, content, by)
  // "two, capped, half": of a frame of honey the word alone is a share
  if (raw === 'capped' && content === 'cappedHoney' && state.inHand && state.lastContent !== 'honey') {
    out.push(...cappedShare(turn, mention, 100, by))
    state.contentTurn = state.turn
    return out
  }
  // "honey, all sealed"
  const isWhole = content === 'cappedHoney' && state.inHand && inSuper(state) && WHOLLY.test(saidBy(turn, mention))
  if (isWhole) out.push(...cappedShare(turn, mention, 100, by))
  const holds = HOLDS[content]
  correctContent(turn, mention, content)
  if (state.inHand && holds) out.push(...put(turn, 'frame.holds', holds, by))
  for (const field of PRESENT[content] ?? [])
    out.push(...put(turn, field, 'yes', by, state.inHand ? { how: 'derived' } : {}))
  state.lastContent = content
  state.contentTurn = state.turn
  return out
}

const WHOLLY = /\b(all|fully|completely) (capped|sealed)\b/

const saidBy = ({ utterance: { words } }: Turn, { from, to }: Mention): string =>
  words
    .slice(from, to)
    .map(({ norm }) => norm)
    .join(' ')

const CORRECTS =
  /\b(no|nope|sorry|wait|hang on|hold on|actually|rather|tell a lie|scratch that|correction|i mean|or is (it|that)|no that is)\b/

/** "Honey, no, hang on, that's brood": what the frame in hand was said to hold just before was a slip. */
function correctContent(turn: Turn, mention: Mention, content: string): void {
  const { state, utterance } = turn
  if (!state.inHand) return
  const before = state.drafts
    .slice(-6)
    .findLast((d) => d.field === 'frame.holds' && d.hive === state.hive && d.dead === null && d.turn >= state.turn - 1)
  const slip = before?.evidence[0]
  if (!before || !slip || before.frame !== state.frame || before.side !== state.side || before.value === content) return
  const between = utterance.words.slice(0, mention.from).filter((w) => w.start >= slip.end)
  if (between.length === 0 || between.length > 7 || (before.turn < state.turn && between.length !== mention.from))
    return
  const said = between.map((w) => w.norm).join(' ')
  // "no" begins a denial of its own; what is denied is no second guess
  if (!CORRECTS.test(said) || /^(and|with|no)( \w+)?$/.test(said) || /\b(no|not) \w+ (and|but)\b/.test(said)) return
  for (const draft of state.drafts.slice(-6))
    if (draft.evidence[0]!.start === slip.start && draft.evidence[0]!.end === slip.end) draft.dead = 'revised'
}

/** "No eggs": of the hive, unless it is said of a frame or a side in hand. */
function emitAbsence(turn: Turn, mention: Mention, content: string, by: string): Draft[] {
  const { state } = turn
  if (inSuper(state) || clauseHas(turn, mention, SUPERS)) return []
  if (state.inHand && !clauseHas(turn, mention, WHOLE)) {
    if (state.walk === 'frames' || clauseHas(turn, mention, LOCAL)) return []
  }
  const fields = content === 'brood' ? ['larvae.present', 'cappedBrood.present'] : (PRESENT[content] ?? [])
  const out: Draft[] = []
  for (const field of fields) out.push(...put(turn, field, 'no', by, state.inHand ? { features: { local: 1 } } : {}))
  return out
}

/** "Six frames of brood": a count of frames, in the box in hand if there is one. */
export function emitCount(turn: Turn, mention: Mention, raw: string, amount: Amount, by: string): Draft[] {
  const { state } = turn
  const content = resolveContent(turn, raw) ?? raw
  const field = COUNTS[content]
  // "four frames last time and today it's seven": what was counted then may be counted now
  if (field && stands(mention.standing, 'earlier')) {
    state.topic = `count:${content}`
    state.topicTurn = state.turn
  }
  // "eight frames of bees before the winter, or we feed": so hives are told
  if (content === 'bees' && blockedBy(mention)) state.given.add('frames.bees')
  if (!field || !tellsNow(mention) || isHandled(turn, mention)) return []
  // no hive holds so many frames: the number counts something else
  if (stands(mention.standing, 'denied') || (amount.hi > 60 && !amount.percent)) return []
  const behind = turn.utterance.words
    .slice(mention.to, mention.to + 2)
    .map((w) => w.norm)
    .join(' ')
  // "a pretty frame of capped brood, ninety percent"
  if (amount.percent) {
    const out = emitContent(turn, mention, raw, by)
    if (out.length > 0 && state.inHand && /^(brood|cappedBrood|larvae|openBrood|eggs)$/.test(content))
      out.push(...put(turn, 'brood.coverPercent', percentOf(amount), by))
    return out
  }
  // "six, half a frame of capped brood": a share of the comb in hand
  if (
    state.inHand &&
    state.walk === 'frames' &&
    amount.hi < 1 &&
    /^(brood|cappedBrood|larvae|openBrood|eggs)$/.test(content)
  ) {
    const out = emitContent(turn, mention, raw, by)
    return out.length === 0 ? [] : [...out, ...put(turn, 'brood.coverPercent', percentOf(amount), by)]
  }
  const total = clauseHas(turn, mention, TOTAL) || /^(all (up|told)|in (all|total))$/.test(behind)
  const out = put(turn, `frames.${field}`, amountValue(amount), by, {
    ...(total ? { box: null } : {}),
    ...(amount.homophone ? { features: { homophone: 1 } } : {}),
  })
  for (const present of STAGE.test(content) ? PRESENT[content]! : []) put(turn, present, 'yes', by, { how: 'derived' })
  if (content === 'stages') for (const present of PRESENT.stages!) put(turn, present, 'yes', by)
  state.last = out
  state.lastContent = content
  state.contentTurn = state.turn
  return out
}

/** "I took a frame of brood and two frames of bees": what is carried about is no count of what the hive has. */
function isHandled({ utterance: { words } }: Turn, mention: Mention): boolean {
  for (let i = mention.from - 1; i >= 0 && i > mention.from - 10; i--) {
    const { norm, filler, brk } = words[i]!
    if (HANDLES.test(norm)) return true
    if (!filler && !(LISTED.test(norm) || readAmount(words, i))) return false
    if (brk >= Break.hard) return false
  }
  return false
}

const HANDLES = /^(took|taken|gave|shook|shaken|moved|stole|stolen|robbed|borrowed|donated|transferred|swapped)$/
const LISTED =
  /^(a|an|the|about|another|some|good|nice|full|whole|of|and|plus|with|frames?|combs?|brood|bees|stores|honey|pollen|eggs|sealed|capped|open|them|him|her|it|out|in|up|over)$/

const STAGE = /^(cappedBrood|eggs|droneBrood|larvae|openBrood)$/

const TOTAL = new Set(['total', 'altogether', 'told', 'together', 'both', 'whole'])
