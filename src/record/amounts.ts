import type { Amount } from '../language/amounts.ts'
import { Break } from '../language/word.ts'
import { type Meaning, type Mention, stands } from '../reading/mention.ts'
import { askShare, cappedShare, onlyAnd } from './capped-share.ts'
import { put } from './emit.ts'
import { callOver } from './hive-calls.ts'
import { callsOut, goesOn, isCounting, isLastAmount, isNextFrame, opensWithAnd, UNITS } from './next.ts'
import { answerNumber, byLegend, revise, temperature, topicNumber, widen } from './number-answers.ts'
import { isShare, percentOf } from './percent.ts'
import { enterHive, takeNumbered } from './place.ts'
import { roundNumber } from './round.ts'
import { combsOf, inSuper, topicOf } from './setting.ts'
import { addFeature, type BoxPlace, type Draft, memoryOf } from './state.ts'
import { summed } from './tally.ts'
import {
  amountOf,
  amountValue,
  beginsClause,
  blockedBy,
  clauseHas,
  endsClause,
  nextWord,
  type Turn,
  tellsNow,
} from './turn.ts'

/** "A super that's eighty percent capped". */
const SUPERS = new Set(['super', 'supers', 'honeybox'])

/** "Eighty percent capped", "half capped", "fully capped", "not capped at all": a share of the honey cells, or of brood. */
export function capShare(turn: Turn, mention: Mention, meaning: Meaning): void {
  const { state } = turn
  if (!tellsNow(mention)) {
    // "if it was capped I'd take it, but it's only half": what is not so yet is spoken of
    if (inSuper(state) || combsOf(state) !== 'brood') {
      state.topic = 'honey'
      state.topicTurn = state.turn
      if (stands(mention.standing, 'question') && !blockedBy(mention)) askShare(turn, mention, meaning.entry.id)
    }
    return
  }
  const amount = amountOf(meaning)
  const fixed = meaning.entry.line.note
  // "2, capped, capped": the number is the frame's
  const calls =
    amount !== undefined &&
    amount.kind === 'integer' &&
    !amount.percent &&
    amount.lo <= 12 &&
    isNextFrame(turn, amount) &&
    takeNumbered(turn, mention, amount)
  if (calls) turn.draftsAtPlace = state.drafts.length
  const value = amount && !calls ? percentOf(amount) : Number(fixed ?? 100)
  const by = meaning.entry.id
  if (stands(mention.standing, 'denied') && amount) return
  const combs = combsOf(state)
  // "eggs, grubs, capped the lot"
  const ofBrood = state.contentTurn === state.turn && /brood|larvae|eggs|stages/i.test(state.lastContent ?? '')
  // a share that is capped, where no brood was spoken of: keepers say so of honey
  const share =
    combs !== 'brood' && (combs === 'honey' || (amount !== undefined && !calls)) && topicOf(state) !== 'brood'
  if (
    inSuper(state) ||
    (topicOf(state) === 'honey' && !ofBrood) ||
    state.lastContent === 'honey' ||
    clauseHas(turn, mention, SUPERS) ||
    (value === 0 && (topicOf(state) === 'super' || state.lastContent === 'nectar')) ||
    (share && topicOf(state) !== 'cells' && !/brood|larvae|eggs/i.test(state.lastContent ?? ''))
  ) {
    cappedShare(turn, mention, value, by, {
      ...(amount?.loose ? { loose: 1 } : {}),
      ...(combs === null && state.inHand ? { weak: 0.3 } : {}),
    })
    return
  }
  if (topicOf(state) === 'cells' || value === 0) return
  put(turn, 'frame.holds', 'cappedBrood', by, state.inHand ? {} : { frame: null })
  put(turn, 'cappedBrood.present', 'yes', by, { how: 'derived' })
  const reach = turn.utterance.words.slice(mention.from, mention.to).map((w) => w.norm)
  if (amount || (value === 100 && reach.some((norm) => REACH.test(norm)))) put(turn, 'brood.coverPercent', value, by)
  state.lastContent = 'cappedBrood'
  state.contentTurn = state.turn
}

/** Words that tell how far something reaches over a comb. */
const REACH = /^(wall|edges?|end|ends|corners?|top|sides?|across|over|out|full|whole|wood|bars?)$/

/** "Top one ninety, bottom one forty": how much is sealed in each of the supers, told box by box. False where it is no share. */
export function boxShare(turn: Turn, mention: Mention, meaning: Meaning): boolean {
  const amount = amountOf(meaning)
  if (!amount || !isShare(amount) || !tellsNow(mention) || stands(mention.standing, 'denied')) return false
  if (!amount.percent && amount.kind !== 'fraction' && !endsClause(turn, mention)) return false
  const box = superNamed(turn, mention)
  turn.state.box = box
  put(turn, 'honey.cappedPercent', percentOf(amount), meaning.entry.id, { box, how: 'carried' })
  turn.state.topic = 'honey'
  turn.state.topicTurn = turn.state.turn
  return true
}

/** Which super "top one", "the one below", "second" is. */
function superNamed({ state, utterance }: Turn, mention: Mention): BoxPlace {
  const said = new Set(utterance.words.slice(mention.from, mention.to).map((word) => word.norm))
  const count = memoryOf(state, state.hive).supers ?? null
  if (said.has('top') || said.has('upper')) return { role: 'super', ordinal: count ?? 2, said: 'top' }
  const before = state.last[0]?.field === 'honey.cappedPercent' ? state.last[0].box : null
  // one below it makes two
  if (before?.said === 'top' && count === null) before.ordinal = 2
  const last = before?.ordinal
  if (said.has('bottom') || said.has('lower')) return { role: 'super', ordinal: 1, said: 'bottom' }
  return { role: 'super', ordinal: last && last > 1 ? last - 1 : said.has('first') ? count : 1 }
}

/** A number with nothing around it: the next frame, the next hive, a share, an answer, or a second thought. */
export function bareAmount(turn: Turn, mention: Mention, meaning: Meaning): void {
  const { state } = turn
  const amount = amountOf(meaning)
  if (!amount) return
  const by = meaning.entry.id
  const call = callOver(turn, mention)
  if (call) {
    enterHive(turn, mention, call.labels)
    state.calledBy ??= 'bare'
    turn.draftsAtPlace = state.drafts.length
    return
  }
  if (isCounting(turn, mention, amount)) {
    if (isLastAmount(turn))
      answerNumber(turn, mention, { ...amount, lo: amount.hi }, by) ||
        topicNumber(turn, mention, { ...amount, lo: amount.hi }, by)
    return
  }
  const whole = amount.kind === 'integer' && !amount.percent
  if (whole && !state.named && amount.hi > amount.lo && state.turn <= 6) state.expected = [amount.lo, amount.hi]
  const opens =
    beginsClause(turn, mention) ||
    opensWithAnd(turn, mention) ||
    callsOut(turn, mention) ||
    goesOn(turn, mention, amount)
  const block = blockedBy(mention)
  // "Which hive is this?" "Twelve."
  if (whole && state.pending?.field === 'place.hive' && state.turn - state.pending.turn <= 2) {
    state.pending = null
    enterHive(turn, mention, [String(amount.lo)])
    state.calledBy ??= 'number'
    return
  }
  // a number between two borders calls a place whatever story runs around it
  const called = beginsClause(turn, mention) && endsClause(turn, mention) && block !== 'earlier'
  if (whole && opens && (called || (!block && (state.expected !== null || !stands(mention.standing, 'denied'))))) {
    if (isNextFrame(turn, amount) && (turn.emitted.length === 0 || state.walk === 'frames')) {
      if (takeNumbered(turn, mention, amount)) {
        turn.draftsAtPlace = state.drafts.length
        return
      }
    }
    // the frame in hand, called once more: "four, wait … four's got eggs"
    if (
      state.walk === 'frames' &&
      amount.lo === state.frame &&
      amount.hi === amount.lo &&
      /^('s|is|has)$/.test(nextWord(turn, mention))
    )
      return
  }
  if (block || stands(mention.standing, 'planned')) return
  if (byLegend(turn, mention, amount, by)) return
  if (temperature(turn, mention, amount, by)) return
  // "… 100 percent on the one side, 80 on the other"
  const covered = state.last[0]
  const turned = covered !== undefined && state.side === 'B' && covered.side !== 'B' && state.turn - covered.turn <= 2
  if (
    covered?.field === 'brood.coverPercent' &&
    covered.frame === state.frame &&
    state.inHand &&
    isShare(amount) &&
    (turned || (covered.turn === state.turn && /^(on|the|other|this|that|one)$/.test(nextWord(turn, mention))))
  ) {
    put(turn, 'brood.coverPercent', percentOf(amount), by, { how: 'carried' })
    return
  }
  // "ninety percent and eighty": one face and the other
  if (
    covered?.field === 'brood.coverPercent' &&
    covered.turn === state.turn &&
    covered.frame === state.frame &&
    covered.side === null &&
    state.inHand &&
    isShare(amount) &&
    onlyAnd(turn, mention, covered)
  ) {
    for (const draft of state.last) draft.side = 'A'
    for (const draft of put(turn, 'brood.coverPercent', percentOf(amount), by, { how: 'carried' })) draft.side = 'B'
    return
  }
  // "half full, a little of it sealed, call it fifteen percent": what was named last
  if (
    state.pending !== null &&
    state.turn - state.pending.turn <= 1 &&
    state.pending.start > (state.last[0]?.evidence[0]?.start ?? -1) &&
    answerNumber(turn, mention, amount, by)
  )
    return
  if (widen(turn, mention, amount, by)) return
  if (revise(turn, mention, amount, by)) return
  if (answerNumber(turn, mention, amount, by)) return
  if (
    state.inHand &&
    inSuper(state) &&
    isShare(amount) &&
    (amount.percent ||
      amount.kind === 'fraction' ||
      !UNITS.test(nextWord(turn, mention)) ||
      /^(and|or|on|in)$/.test(nextWord(turn, mention)))
  ) {
    if (stands(mention.standing, 'question')) return
    // "three, ninety, ninety-five": one face and the other, where neither was named
    if (amount.loose && amount.hi > amount.lo && state.side === null && !state.bothSides && pauses(turn, mention)) {
      for (const [side, lo] of [
        ['A', amount.lo],
        ['B', amount.hi],
      ] as const) {
        state.side = side
        cappedShare(turn, mention, percentOf({ ...amount, lo, hi: lo }), by, {}, 'carried')
      }
      return
    }
    share(turn, mention, amount, by)
    return
  }
  if (
    state.inHand &&
    (amount.percent || amount.kind === 'fraction' || (isShare(amount) && isOfFace(turn, mention))) &&
    state.lastContent &&
    /brood|eggs|larvae/i.test(state.lastContent) &&
    state.turn - state.contentTurn <= 3
  ) {
    put(turn, 'brood.coverPercent', percentOf(amount), by, { how: 'carried' })
    return
  }
  if (topicNumber(turn, mention, amount, by)) return
  if (summed(turn, mention, amount, by)) return
  if (roundNumber(turn, mention, amount, by)) return
  // "frame four, eighty percent": of what the frame before was spoken of, else of capped honey
  if (
    state.inHand &&
    state.frame !== null &&
    (amount.percent ||
      (amount.kind === 'fraction' && amount.hi < 1 && combsOf(state) === 'honey') ||
      (amount.kind === 'integer' &&
        isShare(amount) &&
        (!UNITS.test(nextWord(turn, mention)) || /^(and|on)$/.test(nextWord(turn, mention))) &&
        (topicOf(state) === 'honey' || (amount.lo >= 20 && combsOf(state) !== 'brood')))) &&
    !stands(mention.standing, 'question') &&
    !stands(mention.standing, 'denied') &&
    (state.lastContent === null || /honey|nectar/i.test(state.lastContent))
  ) {
    const brood = broodWalk(turn)
    if (brood) put(turn, 'brood.coverPercent', percentOf(amount), by, { how: 'carried', features: { weak: 0.3 } })
    else cappedShare(turn, mention, percentOf(amount), by, { weak: 0.3 }, 'carried')
    return
  }
  // "brood on three. In the deep, seven": the same counted in the next box
  const before = state.last[0]
  if (
    whole &&
    !state.inHand &&
    before &&
    /^frames\./.test(before.field) &&
    state.turn - before.turn <= 1 &&
    before.box !== state.box &&
    amount.hi <= 20 &&
    endsClause(turn, mention)
  ) {
    for (const draft of put(turn, before.field, amountValue(amount), by, { how: 'carried' }))
      addFeature(draft, 'weak', 0.1)
  }
}

/** Whether brood was the last thing spoken of on a comb of this hive. */
function broodWalk({ state }: Turn): boolean {
  const last = state.drafts
    .slice(-16)
    .findLast(
      (d) =>
        d.hive === state.hive && !d.dead && d.frame !== null && /^(frame\.holds|brood\.cover|honey\.)/.test(d.field),
    )
  return last ? /^brood/.test(last.field) || /brood|larvae|eggs/i.test(String(last.value)) : state.box?.role === 'brood'
}

/** Whether a mark stands inside the words of a mention. */
const pauses = ({ utterance: { words } }: Turn, mention: Mention): boolean =>
  words.slice(mention.from + 1, mention.to).some((word) => word.brk >= Break.soft)

const share = (turn: Turn, mention: Mention, amount: Amount, by: string): Draft[] =>
  cappedShare(turn, mention, percentOf(amount), by, amount.loose ? { loose: 1 } : {}, 'carried')

/** "Eighty on this face". */
function isOfFace(turn: Turn, mention: Mention): boolean {
  const [on, which, what] = turn.utterance.words.slice(mention.to, mention.to + 3).map((word) => word.norm)
  return (
    on === 'on' && /^(this|that|the|one)$/.test(which ?? '') && /^(side|face|one|other|front|back)$/.test(what ?? '')
  )
}
