import type { Amount } from '../language/amounts.ts'
import { type Meaning, type Mention, stands } from '../reading/mention.ts'
import { emitCount } from './content.ts'
import { put } from './emit.ts'
import { topicNumber } from './number-answers.ts'
import { leaveFrame } from './open-hive.ts'
import { inSuper } from './setting.ts'
import { addFeature, type BoxPlace } from './state.ts'
import { amountOf, amountValue, blockedBy, clauseHas, type Turn, tellsNow } from './turn.ts'

const CONTENT_OF: Readonly<Record<string, string>> = {
  stores: 'honey',
  honey: 'honey',
  brood: 'brood',
  bees: 'bees',
  nectar: 'nectar',
  pollen: 'pollen',
  foundation: 'foundation',
  comb: 'drawn',
}

const HANDLED = new Set([
  'took',
  'take',
  'taken',
  'taking',
  'pulled',
  'pull',
  'gave',
  'give',
  'put',
  'add',
  'added',
  'swapped',
  'moved',
  'move',
  'robbed',
  'need',
  'needs',
  'want',
  'wants',
  'spare',
  'off',
  'removed',
  'cut',
  'order',
  'bought',
  'were',
  'was',
  'had',
])

/** "Capped brood? Half a frame, maybe." Frames of what was spoken of last. */
export function framesOf(turn: Turn, mention: Mention, meaning: Meaning): void {
  const { state } = turn
  const amount = amountOf(meaning)
  const sum = state.inHand && summedUp(turn, mention)
  if (
    !amount ||
    (state.inHand && !sum) ||
    amount.lo > 40 ||
    blockedBy(mention) ||
    clauseHas(turn, mention, HANDLED) ||
    topicNumber(turn, mention, amount, meaning.entry.id)
  )
    return
  const content = sum ? broodWalked(turn) : (spokenOf(turn) ?? (strengthFirst(turn, mention) ? 'bees' : undefined))
  if (!content || stands(mention.standing, 'question')) return
  if (sum) leaveFrame(state)
  for (const draft of emitCount(turn, mention, content, amount, meaning.entry.id)) {
    draft.how = 'carried'
    addFeature(draft, 'weak', 0.2)
  }
}

/** "Three to five have brood, that's three frames": the combs just walked over are counted. */
function summedUp({ utterance: { words } }: Turn, mention: Mention): boolean {
  const before = words.slice(Math.max(0, mention.from - 3), mention.from).map(({ norm }) => norm)
  return /\b(that|so that|it) ('s|is|makes)$|\bmakes( it)?$/.test(before.join(' '))
}

const broodWalked = ({ state }: Turn): string | undefined =>
  state.drafts
    .slice(-8)
    .some(
      (d) =>
        d.hive === state.hive &&
        state.turn - d.turn <= 3 &&
        d.field === 'frame.holds' &&
        /brood|larvae|eggs/i.test(String(d.value)),
    )
    ? 'brood'
    : undefined

/** "Hive five, ten frames, heavy": where frames of bees are counted at every hive, the first number of the next is theirs. */
function strengthFirst({ state, utterance }: Turn, mention: Mention): boolean {
  const called = state.hiveSaid
  if (!called || state.turn - called.turn > 1 || !state.given.has('frames.bees') || /nuc/.test(state.hive)) return false
  if (
    mention.start < called.at ||
    utterance.words.slice(Math.max(0, mention.from - 6), mention.to).some(({ norm }) => /^(nuc|box|super)$/.test(norm))
  )
    return false
  return !state.drafts.slice(-8).some((d) => d.hive === state.hive && d.evidence[0]!.start > called.at)
}

/** What frames were counted of just now: what was asked for, or whichever of content and topic came up last. */
function spokenOf({ state }: Turn): string | undefined {
  const { pending } = state
  if (pending?.field?.startsWith('content:') && state.turn - pending.turn <= 1) return pending.field.slice(8)
  const content = state.turn - state.contentTurn <= 1 ? (state.lastContent ?? undefined) : undefined
  const topic = state.topic && state.turn - state.topicTurn <= (content ? 1 : 3) ? CONTENT_OF[state.topic] : undefined
  return topic && (!content || state.topicTurn > state.contentTurn) ? topic : content
}

const COUNTED = /^(frames\.\w+|seams\.bees|queenC(ells|ups)\.count|pest\.\w+\.count)$/

/** "Five frames of bees in the top and four in the bottom": the same is counted in the other box. */
export function alsoIn(turn: Turn, mention: Mention, meaning: Meaning): void {
  const { state, utterance } = turn
  const amount = amountOf(meaning)
  const before = state.last[0]
  if (!amount || amount.percent || amount.hi > 24 || !tellsNow(mention) || stands(mention.standing, 'denied')) return
  if (!before || !/^(frames\.(brood|bees|cappedBrood|honey)|seams\.bees)$/.test(before.field)) return
  if (before.hive !== state.hive || state.turn - before.turn > 1 || inSuper(state)) return
  const isLow = utterance.words
    .slice(mention.from, mention.to)
    .some(({ norm }) => /^(bottom|lower|below|under|underneath|down|downstairs)$/.test(norm))
  const boxOf = (low: boolean): BoxPlace => ({ role: 'brood', ordinal: low ? 1 : 2 })
  for (const draft of state.last) if (draft.box === null) draft.box = boxOf(!isLow)
  put(turn, before.field, amountValue(amount), meaning.entry.id, { how: 'carried', box: boxOf(isLow) })
}

/** "Two on this one and one on that, so three": the sum of what was counted just before. */
export function summed(turn: Turn, mention: Mention, amount: Amount, by: string): boolean {
  const { state } = turn
  const before = turn.utterance.words.slice(0, mention.from).at(-1)?.norm ?? ''
  if (!/^(so|'s|is|makes|it|total|altogether)$/.test(before) || amount.kind !== 'integer' || amount.percent)
    return false
  const near = state.drafts
    .slice(-10)
    .filter((d) => d.hive === state.hive && d.dead === null && state.turn - d.turn <= 3 && typeof d.value === 'number')
  const field = near.findLast((d) => COUNTED.test(d.field))?.field
  const parts = near.filter((d) => d.field === field)
  if (field === undefined || parts.length < 2) return false
  if (parts.reduce((sum, d) => sum + (d.value as number), 0) !== amount.lo) return false
  put(turn, field, amount.lo, by, { how: 'carried', box: null, frame: null })
  return true
}

/** "So five down here", "eleven all told": the frames of brood of a box or a hive, summed up. */
export function boxTotal(turn: Turn, mention: Mention, meaning: Meaning): void {
  const { state } = turn
  const amount = amountOf(meaning)
  if (!amount || amount.percent || amount.hi > 24 || inSuper(state) || blockedBy(mention)) return
  const counted = state.drafts
    .slice(-40)
    .filter(
      (d) =>
        d.hive === state.hive &&
        !d.dead &&
        (/^frames\.(brood|bees|cappedBrood)/.test(d.field) ||
          (d.field === 'frame.holds' && /brood|larvae|eggs/i.test(String(d.value)))),
    )
  const field =
    counted.findLast((d) => /^frames\./.test(d.field))?.field ?? (counted.length > 0 ? 'frames.brood' : undefined)
  if (field === undefined) return
  for (const draft of put(turn, field, amountValue(amount), meaning.entry.id, {
    frame: null,
    ...(meaning.entry.line.note === 'hive' ? { box: null } : {}),
  }))
    addFeature(draft, 'weak', 0.1)
  leaveFrame(state)
}
