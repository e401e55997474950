import type { Amount } from '../language/amounts.ts'
import { Break, isUnmarked } from '../language/word.ts'
import type { Mention } from '../reading/mention.ts'
import { fieldInfo } from './fields.ts'
import { joins } from './place.ts'
import { inSuper } from './setting.ts'
import { frameInPassing } from './state.ts'
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
export function awaited(turn: Turn): boolean {
  const { state } = turn
  if (state.calledBy === 'bare' && areAll(turn.utterance.words, turn.mention.from, turn.mention.to)) return false
  const asked =
    state.pending?.field && fieldInfo(state.pending.field)?.type === 'number' && state.turn - state.pending.turn <= 2
  return Boolean(asked) || (state.topic?.startsWith('number:') === true && state.turn - state.topicTurn <= 1)
}

/** In a row of hives with numbers too big for frames, the next number calls the next hive wherever it stands. */
export function nextInRun(turn: Turn, mention: Mention): boolean {
  const { state } = turn
  const current = /^(\d+)$/.exec(state.hive)
  const amount = amountOf(mention.meanings.find((x) => x.entry.line.act === 'amount')!)
  if (!amount || !current || amount.lo !== amount.hi || amount.lo < 13) return false
  const gap = amount.lo - Number(current[1])
  // where no round was announced, only the hive behind the one in hand can be next
  const byWord = state.calledBy === 'hive' || state.calledBy === 'number'
  const reach = state.expected ? Math.min(2, state.expected[1] - Number(current[1])) : byWord ? 1 : 0
  return (
    gap >= 1 &&
    gap <= reach &&
    (state.expected !== null || !UNITS.test(nextWord(turn, mention))) &&
    !/^(of|from|for|on|to|percent|frame|frames)$/.test(previousWord(turn, mention))
  )
}

/** "… take it two that's 85": where nothing is marked, a number with no noun to count may call the next frame or hive. */
export function callsOut(turn: Turn, mention: Mention): boolean {
  const all = turn.utterance.words
  if (!isUnmarked(all)) return false
  const next = nextWord(turn, mention)
  const list = next === 'and' && turn.mentions[turn.index + 1]?.from === mention.to + 1
  if (UNITS.test(next) && !list && !/^(big|large|good|nice|in|on|drone)$/.test(next)) return false
  const before = previousWord(turn, mention)
  if (nextInRun(turn, mention)) return true
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
    turn.state.walk === 'frames' && last !== null && amount.lo > last && amount.lo <= last + 6 && joins(turn, mention)
  )
}

/** Whether a number calls the next frame of the walk. */
export function isNextFrame(turn: Turn, amount: Amount): boolean {
  const { state } = turn
  if (state.walk !== 'frames' && !(inSuper(state) && state.frame === null)) return false
  const last = state.frame ?? 0
  if (amount.lo === last + 1) return amount.hi <= last + 8
  if (goesOn(turn, turn.mention, amount)) return true
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

/** What comes right behind a hive's number where nothing is marked. */
const OPENS_HIVE =
  /^(no|not|are|all|the|same|this|these|they|that|single|double|queen|is|'s|has|here|okay|right|lid|now|well|oh|hm|hmm|eggs|brood|light|heavy|weak|strong|quiet|calm|hot|next|now|had|got|was|still|which|i|we)$/

/** Whether a number calls the next hive of the round. */
export function isNextHive(turn: Turn, amount: Amount): boolean {
  const { state } = turn
  if (
    amount.lo !== amount.hi &&
    !amount.loose &&
    !(
      amount.hi - amount.lo <= 20 &&
      (endsClause(turn, turn.mention) || /^(are|all|is|same|the)$/.test(nextWord(turn, turn.mention)))
    )
  )
    return false
  if (!state.named) {
    if (amount.lo !== amount.hi || (state.walk === 'frames' && amount.lo <= 12)) return false
    // "1." said alone opens a round of hives
    if (state.expected === null)
      return (
        amount.lo === 1 &&
        amount.hi === 1 &&
        !state.inHand &&
        state.box === null &&
        areAll(turn.utterance.words, turn.mention.from, turn.mention.to)
      )
    const [low, high] = state.expected
    return (
      amount.lo >= low &&
      amount.lo <= Math.min(high, low + 1) &&
      (endsClause(turn, turn.mention) || OPENS_HIVE.test(nextWord(turn, turn.mention)))
    )
  }
  const number = /^(?:nuc )?(\d+)$/.exec(state.hive)
  if (!number) return false
  const n = amount.lo
  // among frames, a number is the next hive only where hives go by bare numbers and it cannot be the next frame
  if (state.walk === 'frames') {
    if (n === (state.frame ?? 0) + 1) return false
    if (state.calledBy !== 'bare' && !frameInPassing(state)) return false
  }
  if (nextInRun(turn, turn.mention)) return true
  // where hives are called with a word ("hive two"), a bare number must stand quite alone to be one
  if (
    state.calledBy !== 'bare' &&
    state.calledBy !== null &&
    !(beginsClause(turn, turn.mention) && endsClause(turn, turn.mention)) &&
    !/^(is|has|'s|had|got|which)$/.test(nextWord(turn, turn.mention))
  )
    return false
  if (n === Number(number[1]) + 1)
    return (
      !UNITS.test(nextWord(turn, turn.mention)) &&
      (beginsClause(turn, turn.mention) || OPENS_HIVE.test(nextWord(turn, turn.mention)))
    )
  // "Skip six. Seven.": said quite alone, one may have been left out
  if (
    n === Number(number[1]) + 2 &&
    !state.inHand &&
    state.calledBy === 'bare' &&
    areAll(turn.utterance.words, turn.mention.from, turn.mention.to)
  )
    return true
  return (
    state.expected !== null &&
    n > Number(number[1]) &&
    n <= state.expected[1] &&
    n <= Number(number[1]) + 3 &&
    n > 20 &&
    endsClause(turn, turn.mention)
  )
}

export function hiveRun(current: string, amount: Amount): string[] {
  const prefix = current.startsWith('nuc ') ? 'nuc ' : ''
  const out: string[] = []
  for (let n = amount.lo; n <= amount.hi; n++) out.push(`${prefix}${n}`)
  return out
}
