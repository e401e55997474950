import type { Amount } from '../language/amounts.ts'
import { type Mention, stands } from '../reading/mention.ts'
import { emitCount } from './content.ts'
import { convert } from './convert.ts'
import { put } from './emit.ts'
import { fieldInfo } from './fields.ts'
import { percentOf } from './percent.ts'
import { topicOf } from './setting.ts'
import { addFeature } from './state.ts'
import {
  amountOf,
  amountValue,
  areAll,
  beginsClause,
  endsClause,
  nextWord,
  previousWord,
  type Turn,
  tellsNow,
} from './turn.ts'

const REPAIR = new Set([
  'no',
  'sorry',
  'wait',
  'rather',
  'actually',
  'it',
  'that',
  'mean',
  'make',
  'nope',
  'nah',
  'so',
  'there',
  "'s",
  'is',
  'maybe',
  'then',
  'yeah',
])

/** "Nine and six", where it was said that such pairs are bees and brood. */
export function byLegend(turn: Turn, mention: Mention, amount: Amount, by: string): boolean {
  const { legend, inHand } = turn.state
  if (!legend || inHand || amount.percent || !isPair(turn)) return false
  if (amount.loose && amount.hi > amount.lo) {
    emitCount(turn, mention, legend[0]!, { ...amount, hi: amount.lo }, by)
    emitCount(turn, mention, legend[1]!, { ...amount, lo: amount.hi }, by)
    return true
  }
  const before = bareNumbers(turn).filter((m) => m.from < mention.from).length
  const content = legend[before]
  if (content === undefined) return false
  emitCount(turn, mention, content, amount, by)
  return true
}

/** The bare numbers of an utterance, those that something longer might have been too. */
const bareNumbers = ({ mentions }: Turn): Mention[] =>
  mentions.flatMap((m) => [m, ...m.pieces]).filter((m) => m.meanings.some((x) => x.entry.line.act === 'amount'))

/** Whether an utterance begins with bare numbers and nothing else between them. */
function isPair(turn: Turn): boolean {
  const numbers = bareNumbers(turn)
  const first = numbers[0]
  const second = numbers[1]
  // "hive one, nine and six": behind the call of a hive, or at the start
  const behind =
    first !== undefined &&
    turn.mentions.every((m) => m.from >= first.from || m.meanings.some((x) => x.entry.line.place?.hive !== undefined))
  if (!first || (first.from > 1 && !behind)) return false
  if (!second) return amountOf(first.meanings.find((x) => x.entry.line.act === 'amount')!)?.loose === true
  for (let i = first.to; i < second.from; i++) if (turn.utterance.words[i]!.norm !== 'and') return false
  return true
}

/** "Might be seven, might be eight": two guesses side by side make a range. */
export function widen(turn: Turn, mention: Mention, amount: Amount, by: string): boolean {
  const { state } = turn
  const target = state.last.filter(
    (d) =>
      d.dead === null &&
      typeof d.value === 'number' &&
      d.features.hedged === 1 &&
      d.turn === state.turn &&
      Math.abs(d.value - amount.lo) <= 2 &&
      d.value !== amount.lo,
  )
  if (
    target.length === 0 ||
    amount.hi > amount.lo ||
    !/^(be|or|maybe|possibly|perhaps|even)$/.test(previousWord(turn, mention))
  )
    return false
  const all = turn.utterance.words
  for (let i = mention.from - 1; i >= 0 && all[i]!.start >= target[0]!.evidence[0]!.end; i--)
    if (!/^(be|or|might|could|maybe|possibly|perhaps|even)$/.test(all[i]!.norm) && !all[i]!.filler) return false
  for (const draft of target) {
    draft.value = [Math.min(draft.value as number, amount.lo), Math.max(draft.value as number, amount.lo)]
    draft.evidence.push({ start: mention.start, end: mention.end, by })
  }
  turn.emitted.push(...target)
  return true
}

/** "… five frames of brood. No, wait, six.": the last number changes. */
export function revise(turn: Turn, mention: Mention, amount: Amount, by: string): boolean {
  const { state } = turn
  const target = state.last.filter(
    (d) => d.dead === null && (typeof d.value === 'number' || Array.isArray(d.value)) && state.turn - d.turn <= 2,
  )
  if (target.length === 0) return false
  // "six, seven frames of bees. Seven.": one of two that were named is settled on
  const { value: named } = target[0]!
  const settles =
    Array.isArray(named) && named.includes(amount.lo) && areAll(turn.utterance.words, mention.from, mention.to)
  if (!settles && !repairBefore(turn, mention)) return false
  const field = target[0]!.field
  const percent = fieldInfo(field)?.unit === 'percent'
  // "a full frame of brood if I was generous, more like seventy percent"
  if (amount.percent && !percent) return false
  const said = target[0]!.saidIn
  const value = percent
    ? percentOf(amount)
    : said
      ? convert(amountValue(amount), said, turn.region)
      : amountValue(amount)
  for (const draft of target) {
    draft.alternatives.unshift({
      value: draft.value,
      why: 'corrected',
      start: draft.evidence[0]!.start,
      end: draft.evidence[0]!.end,
    })
    draft.value = value
    draft.evidence.push({ start: mention.start, end: mention.end, by })
    addFeature(draft, 'revised', 1)
  }
  turn.emitted.push(...target)
  return true
}

/** Whether the words before a number take something back ("no", "sorry", "call it", "make that"). */
function repairBefore(turn: Turn, mention: Mention): boolean {
  const all = turn.utterance.words
  let strong = false
  for (let i = mention.from - 1; i >= 0 && i >= mention.from - 7; i--) {
    const norm = all[i]!.norm
    if (/^(no|sorry|scratch|nope|nah|correction|rather)$/.test(norm)) strong = true
    if ((norm === 'call' || norm === 'make') && /^(it|that)$/.test(all[i + 1]?.norm ?? '')) strong = true
    if (/^(nearer|closer)$/.test(norm) || (norm === 'like' && all[i - 1]?.norm === 'more')) strong = true
    if (/^(say|put|write|call)$/.test(norm) && i === mention.from - 1 && (i === 0 || all[i]!.brk > 0)) strong = true
    if (norm === 'mean' && all[i - 1]?.norm === 'i') strong = true
    if (norm === 'lie' && all[i - 1]?.norm === 'a') strong = true
    if (
      !REPAIR.has(norm) &&
      !all[i]!.filler &&
      !/^(call|make|say|scratch|strike|that|hang|hold|on|i|mean|tell|a|lie|nearer|closer|to|more|like|probably)$/.test(
        norm,
      )
    )
      break
  }
  return strong
}

/** A number that answers a question ("how many seams?" "seven"). */
export function answerNumber(turn: Turn, mention: Mention, amount: Amount, by: string): boolean {
  const { state } = turn
  const { pending } = state
  const alone = beginsClause(turn, mention) && endsClause(turn, mention)
  if (!pending?.field || state.turn - pending.turn > (alone ? 4 : 1)) return false
  if (stands(mention.standing, 'question')) return false
  const info = fieldInfo(pending.field)
  if (info?.type !== 'number' || (amount.percent && info.unit !== 'percent')) return false
  const repeated = state.last.find((d) => d.field === pending.field && d.dead === null && d.turn >= pending.turn)
  if (repeated) {
    // the last number of counting aloud, or a second thought
    for (const draft of state.last)
      if (draft.field === pending.field) draft.value = info.unit === 'percent' ? percentOf(amount) : amountValue(amount)
    state.last[0]!.evidence.push({ start: mention.start, end: mention.end, by })
    turn.emitted.push(state.last[0]!)
    return true
  }
  put(turn, pending.field, info.unit === 'percent' ? percentOf(amount) : amountValue(amount), by, { how: 'carried' })
  return true
}

/** A number right behind its subject: "Stores. Nine frames." "Beetles? Four." */
export function topicNumber(turn: Turn, mention: Mention, amount: Amount, by: string): boolean {
  const { state } = turn
  const topic = topicOf(state)
  if (topic === null || amount.percent) return false
  // "Alcohol wash. Shake, shake. And … twelve.": mites are counted a while
  const waits = topic === 'number:mites.count' && areAll(turn.utterance.words, mention.from, mention.to) ? 3 : 1
  if (state.turn - state.topicTurn > waits) return false
  if (stands(mention.standing, 'question')) return false
  const previous = previousWord(turn, mention)
  if (previous === 'frame' || previous === 'number' || nextWord(turn, mention) === 'of') return false
  if (topic.startsWith('count:')) {
    emitCount(turn, mention, topic.slice(6), amount, by)
    return true
  }
  // "Wash on this one. 300. Four mites.": so many bees
  if (topic === 'number:mites.count' && amount.lo >= 100 && amount.lo % 50 === 0) {
    put(turn, 'mites.sampleBees', amountValue(amount), by, { how: 'carried' })
    return true
  }
  if (topic.startsWith('number:')) {
    put(turn, topic.slice(7), amountValue(amount), by, { how: 'carried' })
    state.topic = topic.slice(7).replace(/\.count$/, '')
    return true
  }
  return false
}

/**
 * "Overcast and still, about fourteen", "it's 24 and quite windy": a number beside sky and wind, before any hive is named,
 * is the temperature.
 */
export function temperature(turn: Turn, mention: Mention, amount: Amount, by: string): boolean {
  const { state } = turn
  const isBeside = besideWeather(turn, mention)
  // "It's fifty-eight. No wind, blue sky.": told at the start of a note
  const isTold =
    state.turn <= 6 && amount.lo >= 45 && /^('s|is)$/.test(previousWord(turn, mention)) && endsClause(turn, mention)
  if (state.named || !(isBeside || isTold || topicOf(state) === 'weather')) return false
  if (amount.kind !== 'integer' || amount.percent || amount.lo < 4 || amount.hi > 105) return false
  if (NOT_A_TEMPERATURE.test(previousWord(turn, mention))) return false
  if (!(endsClause(turn, mention) || TEMPERATURE_GOES_ON.test(nextWord(turn, mention)))) return false
  // further off, a low number is sooner a hive or a frame
  if (!isBeside && !isTold && (!beginsClause(turn, mention) || (state.turn > state.topicTurn && amount.lo < 13)))
    return false
  if (!tellsNow(mention)) return false
  put(turn, 'weather.temperature', convert(amountValue(amount), 'temp', turn.region), by, { how: 'carried' })
  return true
}

/** Whether something is said of the weather within a few words. */
function besideWeather(turn: Turn, mention: Mention): boolean {
  return turn.mentions.some(
    (m) =>
      m !== mention &&
      m.from - mention.to < 5 &&
      mention.from - m.to < 5 &&
      m.meanings.some((meaning) => meaning.entry.gives.some((give) => /^weather\.(sky|wind)/.test(give.field))),
  )
}

const NOT_A_TEMPERATURE =
  /^(hive|hives|number|frame|nuc|colony|colonies|box|of|to|the|these|those|all|than|under|over)$/
const TEMPERATURE_GOES_ON =
  /^(already|ish|outside|out|today|now|and|with|but|or|above|in|degrees|sun|sunny|cloudy|overcast|windy)$/
