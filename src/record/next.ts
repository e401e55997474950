import type { Amount } from '../language/amounts.ts'
import { Break, isUnmarked } from '../language/word.ts'
import type { Mention } from '../reading/mention.ts'
import { fieldInfo } from './fields.ts'
import { joins } from './place.ts'
import { inSuper } from './setting.ts'
import { amountOf, areAll, beginsClause, endsClause, nextWord, previousWord, type Turn } from './turn.ts'

const bareNumbers = (turn: Turn): Amount[] =>
  turn.mentions
    .map((m) => m.meanings.find((x) => x.entry.line.act === 'amount'))
    .flatMap((x) => (x ? (amountOf(x) ?? []) : []))

/** Whether no bare number follows in the utterance. */
export const isLastAmount = (turn: Turn): boolean =>
  !turn.mentions.slice(turn.index + 1).some((m) => m.meanings.some((x) => x.entry.line.act === 'amount'))

/** Whether nothing stands between the bare numbers of an utterance. */
function inARow(turn: Turn): boolean {
  const said = turn.mentions.filter((m) => m.meanings.some((x) => x.entry.line.act === 'amount'))
  return said.every(
    (m, k) => k === 0 || turn.utterance.words.slice(said[k - 1]!.to, m.from).every((w) => w.filler || w.norm === 'and'),
  )
}

/** "Three, four, five, six, seven": counting aloud, unless it goes on from the frame in hand. */
export function isCounting(turn: Turn, mention: Mention, amount: Amount): boolean {
  const numbers = bareNumbers(turn).flatMap((a) => (a.hi > a.lo ? [a.lo, a.hi] : [a.lo]))
  if (numbers.length < 3 || amount.kind !== 'integer' || !inARow(turn)) return false
  for (let i = 1; i < numbers.length; i++) if (numbers[i] !== numbers[i - 1]! + 1) return false
  const { state } = turn
  if (state.walk === 'frames' && amount.lo === (state.frame ?? 0) + 1) return false
  return mention.to - mention.from <= 3
}

/** Whether a question or the topic just named waits for a number. */
function awaited(turn: Turn): boolean {
  const { state } = turn
  if (state.calledBy === 'bare' && areAll(turn.utterance.words, turn.mention.from, turn.mention.to)) return false
  const asked =
    state.pending?.field && fieldInfo(state.pending.field)?.type === 'number' && state.turn - state.pending.turn <= 2
  return Boolean(asked) || (state.topic?.startsWith('number:') === true && state.turn - state.topicTurn <= 1)
}

/** "… take it two that's 85": where nothing is marked, a number with no noun to count may call the next frame or hive. */
export function callsOut(turn: Turn, mention: Mention): boolean {
  const all = turn.utterance.words
  if (!isUnmarked(all)) return false
  const next = nextWord(turn, mention)
  const list = next === 'and' && turn.mentions[turn.index + 1]?.from === mention.to + 1
  if (UNITS.test(next) && !list && !/^(big|large|good|nice|in|on|drone)$/.test(next)) return false
  const before = previousWord(turn, mention)
  if (before === 'it') return !/^(call|make|say|calls|made|about|at)$/.test(all[mention.from - 2]?.norm ?? '')
  return !/^(on|of|to|for|at|than|about|maybe|by|in|from|with|frame|number|hive|the|a|is|are|'s|was|only|just|call|or|another|these|those|all|every|under|over|like|between|had|have|has|got|what|no|not|sorry|wait|say|make|that|until|till|eggs|brood|stores|beetles|mites|seams|cells|cups|bees)$/.test(
    before,
  )
}

/** "And eight, nine and ten …" at the start of a clause. */
export const opensWithAnd = (turn: Turn, mention: Mention): boolean =>
  previousWord(turn, mention) === 'and' &&
  (mention.from === 1 || turn.utterance.words[mention.from - 1]!.brk >= Break.soft) &&
  turn.state.walk === 'frames'

/** "2 and 3": a number right behind the one of a frame. */
export function goesOn(turn: Turn, mention: Mention, amount: Amount): boolean {
  const last = turn.state.frame
  return (
    turn.state.walk === 'frames' &&
    last !== null &&
    (turn.state.stride === 1 ? amount.lo > last && amount.lo <= last + 6 : amount.lo === last - 1) &&
    joins(turn, mention)
  )
}

/** Whether a number calls the next frame of the walk. */
export function isNextFrame(turn: Turn, amount: Amount): boolean {
  const { state } = turn
  if (state.walk !== 'frames' && !(inSuper(state) && state.frame === null)) return false
  // "in the super. Six."
  const isAlone = beginsClause(turn, turn.mention) && endsClause(turn, turn.mention)
  if (state.frame === null && state.walk !== 'frames' && isAlone && amount.lo <= 12 && amount.hi === amount.lo)
    return true
  const last = state.frame ?? 0
  if (amount.lo === last + 1) return amount.hi <= last + 8
  if (goesOn(turn, turn.mention, amount)) return true
  // "nine" behind ten, from the far wall
  if (
    state.frame !== null &&
    amount.lo === last - 1 &&
    amount.hi === amount.lo &&
    !amount.percent &&
    (state.stride === -1 || (state.framesCalled === 1 && last >= 6)) &&
    amount.lo >= 1
  )
    return true
  // one may be left out: "5." behind 3
  if (
    state.frame !== null &&
    amount.lo === last + 2 &&
    amount.lo <= 12 &&
    !amount.percent &&
    !awaited(turn) &&
    beginsClause(turn, turn.mention) &&
    endsClause(turn, turn.mention)
  )
    return true
  // lists of frames skip: "9 and 10" behind 7
  return (
    amount.lo > last &&
    amount.lo <= last + 4 &&
    amount.lo <= 12 &&
    !amount.percent &&
    /^(is|'s|are|and|has|drawn|empty|honey|nectar|pollen|foundation|sealed|eggs|larvae|brood|food|stores|capped|same|polished)$/.test(
      nextWord(turn, turn.mention),
    )
  )
}

/** A number that counts something is no hive. */
export const UNITS =
  /^(percent|of|out|in|on|or|to|and|big|large|small|mites?|beetles?|frames?|seams?|cells?|cups?|degrees|a|per|days?|weeks?|kilos?|pounds?|litres?|strips?|mummies|dead|drone|good|nice)$/
