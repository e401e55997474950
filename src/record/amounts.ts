import type { Amount } from '../language/amounts.ts'
import { Break } from '../language/word.ts'
import { type Meaning, type Mention, stands } from '../reading/mention.ts'
import { emitCount } from './content.ts'
import { convert } from './convert.ts'
import { put } from './emit.ts'
import { fieldInfo } from './fields.ts'
import { enterHive, joins, leaveFrame, takeNumbered } from './place.ts'
import { inSuper, topicOf } from './setting.ts'
import type { Draft } from './state.ts'
import { amountOf, areAll, beginsClause, blockedBy, clauseHas, endsClause, nextWord, previousWord, type Turn, valueOf } from './turn.ts'

/** A fraction or percentage as 0..100. */
function percentOf(amount: Amount): number | [number, number] {
  const one = (x: number): number => (amount.kind === 'fraction' && x <= 1 ? Math.round(x * 100) : x)
  return amount.hi > amount.lo ? [one(amount.lo), one(amount.hi)] : one(amount.lo)
}

/** "Eighty percent capped", "half capped", "fully capped", "not capped at all": a share of the honey cells, or of brood. */
export function capShare(turn: Turn, mention: Mention, meaning: Meaning): void {
  const { state } = turn
  if (blockedBy(mention) || stands(mention.standing, 'planned') || stands(mention.standing, 'question')) return
  const amount = amountOf(meaning)
  const fixed = meaning.entry.line.note
  // "2, capped, capped": the number is the frame's
  const calls = amount !== undefined && amount.kind === 'integer' && !amount.percent && amount.lo <= 12 && isNextFrame(turn, amount) && takeNumbered(turn, mention, amount)
  if (calls) turn.draftsAtPlace = state.drafts.length
  const value = amount && !calls ? percentOf(amount) : Number(fixed ?? 100)
  const by = meaning.entry.id
  if (stands(mention.standing, 'denied') && amount) return
  if (inSuper(state) || topicOf(state) === 'honey' || state.lastContent === 'honey' || (!state.inHand && state.box === null && amount !== undefined && topicOf(state) !== 'brood')) {
    put(turn, 'honey.cappedPercent', value, by, amount?.loose ? { features: { loose: 1 } } : {})
    state.topic = 'honey'
    state.topicTurn = state.turn
    return
  }
  if (topicOf(state) === 'cells' || value === 0) return
  put(turn, 'frame.holds', 'cappedBrood', by, state.inHand ? {} : { frame: null })
  put(turn, 'cappedBrood.present', 'yes', by, { how: 'derived' })
  if (amount || value === 100) put(turn, 'brood.coverPercent', value, by)
  state.lastContent = 'cappedBrood'
  state.contentTurn = state.turn
}

const REPAIR = new Set(['no', 'sorry', 'wait', 'rather', 'actually', 'it', 'that', 'mean', 'make', 'nope', 'nah', 'so', 'there', "'s", 'is', 'maybe', 'then', 'yeah'])

/** A number with nothing around it: the next frame, the next hive, a share, an answer, or a second thought. */
export function bareAmount(turn: Turn, mention: Mention, meaning: Meaning): void {
  const { state } = turn
  const amount = amountOf(meaning)
  if (!amount) return
  const by = meaning.entry.id
  if (isCounting(turn, mention, amount)) {
    if (isLastAmount(turn)) answerNumber(turn, mention, { ...amount, lo: amount.hi }, by) || topicNumber(turn, mention, { ...amount, lo: amount.hi }, by)
    return
  }
  const whole = amount.kind === 'integer' && !amount.percent
  if (whole && !state.named && amount.hi > amount.lo && state.turn <= 6) state.expected = [amount.lo, amount.hi]
  const opens = beginsClause(turn, mention) || opensWithAnd(turn, mention) || callsOut(turn, mention) || goesOn(turn, mention, amount)
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
    if (state.walk === 'frames' && amount.lo === state.frame && amount.hi === amount.lo && /^('s|is|has)$/.test(nextWord(turn, mention))) return
    if (isNextHive(turn, amount) && !awaited(turn)) {
      enterHive(turn, mention, hiveRun(state.hive, amount))
      state.calledBy ??= 'bare'
      turn.draftsAtPlace = state.drafts.length
      return
    }
  }
  if (block || stands(mention.standing, 'planned')) return
  if (byLegend(turn, mention, amount, by)) return
  // "… 100 percent on the one side, 80 on the other"
  const covered = state.last[0]
  const turned = covered !== undefined && state.side === 'B' && covered.side !== 'B' && state.turn - covered.turn <= 2
  if (covered?.field === 'brood.coverPercent' && covered.frame === state.frame && state.inHand && isShare(amount) && (turned || (covered.turn === state.turn && /^(on|the|other|this|that|one)$/.test(nextWord(turn, mention))))) {
    put(turn, 'brood.coverPercent', percentOf(amount), by, { how: 'carried' })
    return
  }
  if (widen(turn, mention, amount, by)) return
  if (revise(turn, mention, amount, by)) return
  if (answerNumber(turn, mention, amount, by)) return
  if (state.inHand && inSuper(state) && isShare(amount) && (amount.percent || amount.kind === 'fraction' || !UNITS.test(nextWord(turn, mention)) || /^(and|or|on|in)$/.test(nextWord(turn, mention)))) {
    if (stands(mention.standing, 'question')) return
    share(turn, mention, amount, by)
    return
  }
  if (state.inHand && (amount.percent || amount.kind === 'fraction') && state.lastContent && /brood|eggs|larvae/i.test(state.lastContent) && state.turn - state.contentTurn <= 3) {
    put(turn, 'brood.coverPercent', percentOf(amount), by, { how: 'carried' })
    return
  }
  if (topicNumber(turn, mention, amount, by)) return
  // "frame four, eighty percent": of what the frame before was spoken of, else of capped honey
  if (state.inHand && state.frame !== null && (amount.percent || (amount.kind === 'integer' && isShare(amount) && !UNITS.test(nextWord(turn, mention)) && topicOf(state) === 'honey')) && !stands(mention.standing, 'question') && !stands(mention.standing, 'denied') && (state.lastContent === null || /honey|nectar/i.test(state.lastContent))) {
    const brood = broodWalk(turn)
    for (const draft of put(turn, brood ? 'brood.coverPercent' : 'honey.cappedPercent', percentOf(amount), by, { how: 'carried' })) draft.features.weak = 0.3
    if (brood) return
    state.topic = 'honey'
    state.topicTurn = state.turn
    return
  }
  // "brood on three. In the deep, seven": the same counted in the next box
  const before = state.last[0]
  if (whole && !state.inHand && before && /^frames\./.test(before.field) && state.turn - before.turn <= 1 && before.box !== state.box && amount.hi <= 20 && endsClause(turn, mention)) {
    for (const draft of put(turn, before.field, valueOf(amount), by, { how: 'carried' })) draft.features.weak = 0.1
  }
}

const bareNumbers = (turn: Turn): Amount[] => turn.mentions.map((m) => m.meanings.find((x) => x.entry.line.act === 'amount')).flatMap((x) => (x ? (amountOf(x) ?? []) : []))

const isLastAmount = (turn: Turn): boolean => !turn.mentions.slice(turn.index + 1).some((m) => m.meanings.some((x) => x.entry.line.act === 'amount'))

/** Whether nothing stands between the bare numbers of an utterance. */
function inARow(turn: Turn): boolean {
  const said = turn.mentions.filter((m) => m.meanings.some((x) => x.entry.line.act === 'amount'))
  return said.every((m, k) => k === 0 || turn.utterance.words.slice(said[k - 1]!.to, m.from).every((w) => w.filler || w.norm === 'and'))
}

/** "Three, four, five, six, seven": counting aloud, unless it goes on from the frame in hand. */
function isCounting(turn: Turn, mention: Mention, amount: Amount): boolean {
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
  const asked = state.pending?.field && fieldInfo(state.pending.field)?.type === 'number' && state.turn - state.pending.turn <= 2
  return Boolean(asked) || (state.topic?.startsWith('number:') === true && state.turn - state.topicTurn <= 1)
}

/** Whether brood was the last thing spoken of on a comb of this hive. */
function broodWalk({ state }: Turn): boolean {
  const last = state.drafts.slice(-16).findLast((d) => d.hive === state.hive && !d.dead && d.frame !== null && /^(frame\.holds|brood\.cover|honey\.)/.test(d.field))
  return last ? /^brood/.test(last.field) || /brood|larvae|eggs/i.test(String(last.value)) : state.box?.role === 'brood'
}

/** In a row of hives with numbers too big for frames, the next number calls the next hive wherever it stands. */
function nextInRun(turn: Turn, mention: Mention): boolean {
  const { state } = turn
  const current = /^(\d+)$/.exec(state.hive)
  const amount = amountOf(mention.meanings.find((x) => x.entry.line.act === 'amount')!)
  if (!amount || !state.expected || !current || amount.lo !== amount.hi || amount.lo < 13) return false
  const gap = amount.lo - Number(current[1])
  return gap >= 1 && gap <= 2 && amount.lo <= state.expected[1] && !/^(of|from|for|on|to|percent|frame|frames)$/.test(previousWord(turn, mention))
}

/** "… take it two that's 85": where nothing is marked, a number with no noun to count may call the next frame or hive. */
function callsOut(turn: Turn, mention: Mention): boolean {
  const all = turn.utterance.words
  if (all.some((w, i) => i > 0 && w.brk >= Break.soft)) return false
  const next = nextWord(turn, mention)
  const list = next === 'and' && turn.mentions[turn.index + 1]?.from === mention.to + 1
  if (UNITS.test(next) && !list && !/^(big|large|good|nice|in|on|drone)$/.test(next)) return false
  const before = previousWord(turn, mention)
  if (nextInRun(turn, mention)) return true
  if (before === 'it') return !/^(call|make|say|calls|made|about|at)$/.test(all[mention.from - 2]?.norm ?? '')
  return !/^(on|of|to|for|at|than|about|maybe|by|in|from|with|frame|number|hive|the|a|is|are|'s|was|only|just|call|or|another|these|those|all|every|under|over|like|between|had|have|has|got|what|no|not|sorry|wait|say|make|that|until|till|eggs|brood|stores|beetles|mites|seams|cells|cups|bees)$/.test(before)
}

const isShare = (amount: Amount): boolean => amount.percent || (amount.kind === 'fraction' && amount.hi <= 1) || (amount.kind === 'integer' && (amount.lo >= 20 || amount.lo === 10 || amount.lo === 15) && amount.hi <= 100)

function share(turn: Turn, mention: Mention, amount: Amount, by: string): void {
  const { state } = turn
  // "ninety-five and ninety": one face and the other
  const previous = state.last[0]
  const pair = previous && previous.field === 'honey.cappedPercent' && previous.turn === state.turn && previous.side === null && !state.bothSides && onlyAnd(turn, mention, previous)
  if (pair) {
    for (const draft of state.last) draft.side = 'A'
    state.side = 'B'
  }
  const drafts = put(turn, 'honey.cappedPercent', percentOf(amount), by, { how: 'carried', ...(amount.loose ? { features: { loose: 1 } } : {}) })
  if (pair) for (const draft of drafts) draft.side = 'B'
  state.topic = 'honey'
  state.topicTurn = state.turn
}

function onlyAnd(turn: Turn, mention: Mention, previous: Draft): boolean {
  const all = turn.utterance.words
  for (let i = mention.from - 1; i >= 0; i--) {
    const word = all[i]!
    if (word.start < previous.evidence[0]!.end) return true
    if (!word.filler && word.norm !== 'and') return false
  }
  return false
}

const opensWithAnd = (turn: Turn, mention: Mention): boolean => previousWord(turn, mention) === 'and' && (mention.from === 1 || turn.utterance.words[mention.from - 1]!.brk >= Break.soft) && turn.state.walk === 'frames'

/** "2 and 3": a number right behind the one of a frame. */
function goesOn(turn: Turn, mention: Mention, amount: Amount): boolean {
  const last = turn.state.frame
  return turn.state.walk === 'frames' && last !== null && amount.lo > last && amount.lo <= last + 6 && joins(turn, mention)
}

function isNextFrame(turn: Turn, amount: Amount): boolean {
  const { state } = turn
  if (state.walk !== 'frames' && !(inSuper(state) && state.frame === null)) return false
  const last = state.frame ?? 0
  if (amount.lo === last + 1) return amount.hi <= last + 8
  if (goesOn(turn, turn.mention, amount)) return true
  // one may be left out: "5." behind 3
  if (state.frame !== null && amount.lo === last + 2 && amount.lo <= 12 && !amount.percent && !awaited(turn) && beginsClause(turn, turn.mention) && endsClause(turn, turn.mention)) return true
  // lists of frames skip: "9 and 10" behind 7
  return amount.lo > last && amount.lo <= last + 4 && amount.lo <= 12 && !amount.percent && /^(is|'s|are|and|has|drawn|empty|honey|nectar|pollen|foundation|sealed|eggs|larvae|brood|food|stores|capped|same|polished)$/.test(nextWord(turn, turn.mention))
}

/** A number that counts something is no hive. */
const UNITS = /^(percent|of|out|in|on|or|to|and|big|large|small|mites?|beetles?|frames?|seams?|cells?|cups?|degrees|a|per|days?|weeks?|kilos?|pounds?|litres?|strips?|mummies|dead|drone|good|nice)$/

/** What comes right behind a hive's number where nothing is marked. */
const OPENS_HIVE = /^(no|not|are|all|the|same|this|these|they|that|single|double|queen|is|'s|has|here|okay|right|lid|now|well|oh|hm|hmm|eggs|brood|light|heavy|weak|strong|quiet|calm|hot|next|now|had|got|was|still|which|i|we)$/

function isNextHive(turn: Turn, amount: Amount): boolean {
  const { state } = turn
  if (amount.lo !== amount.hi && !amount.loose && !(amount.hi - amount.lo <= 20 && (endsClause(turn, turn.mention) || /^(are|all|is|same|the)$/.test(nextWord(turn, turn.mention))))) return false
  if (!state.named) {
    if (amount.lo !== amount.hi || (state.walk === 'frames' && amount.lo <= 12)) return false
    // "1." said alone opens a round of hives
    if (state.expected === null) return amount.lo === 1 && amount.hi === 1 && !state.inHand && state.box === null && areAll(turn.utterance.words, turn.mention.from, turn.mention.to)
    const [low, high] = state.expected
    return amount.lo >= low && amount.lo <= Math.min(high, low + 1) && (endsClause(turn, turn.mention) || OPENS_HIVE.test(nextWord(turn, turn.mention)))
  }
  const number = /^(?:nuc )?(\d+)$/.exec(state.hive)
  if (!number) return false
  const n = amount.lo
  // among frames, a number is the next hive only where hives go by bare numbers and it cannot be the next frame
  if (state.walk === 'frames' && (state.calledBy !== 'bare' || n === (state.frame ?? 0) + 1)) return false
  // where hives are called with a word ("hive two"), a bare number must stand quite alone to be one
  if (state.calledBy !== 'bare' && state.calledBy !== null && !(beginsClause(turn, turn.mention) && endsClause(turn, turn.mention)) && !/^(is|has|'s|had|got|which)$/.test(nextWord(turn, turn.mention))) return false
  if (nextInRun(turn, turn.mention)) return true
  if (n === Number(number[1]) + 1) return !UNITS.test(nextWord(turn, turn.mention)) && (beginsClause(turn, turn.mention) || OPENS_HIVE.test(nextWord(turn, turn.mention)))
  return state.expected !== null && n > Number(number[1]) && n <= state.expected[1] && n <= Number(number[1]) + 3 && n > 20 && endsClause(turn, turn.mention)
}

function hiveRun(current: string, amount: Amount): string[] {
  const prefix = current.startsWith('nuc ') ? 'nuc ' : ''
  const out: string[] = []
  for (let n = amount.lo; n <= amount.hi; n++) out.push(`${prefix}${n}`)
  return out
}

/** "Nine and six", where it was said that such pairs are bees and brood. */
function byLegend(turn: Turn, mention: Mention, amount: Amount, by: string): boolean {
  const { legend, inHand } = turn.state
  if (!legend || inHand || amount.percent || !isPair(turn)) return false
  if (amount.loose && amount.hi > amount.lo) {
    emitCount(turn, mention, legend[0]!, { ...amount, hi: amount.lo }, by)
    emitCount(turn, mention, legend[1]!, { ...amount, lo: amount.hi }, by)
    return true
  }
  const before = turn.mentions.slice(0, turn.index).filter((m) => m.meanings.some((x) => x.entry.line.act === 'amount')).length
  const content = legend[before]
  if (content === undefined) return false
  emitCount(turn, mention, content, amount, by)
  return true
}

/** Whether an utterance begins with bare numbers and nothing else between them. */
function isPair(turn: Turn): boolean {
  const numbers = turn.mentions.filter((m) => m.meanings.some((x) => x.entry.line.act === 'amount'))
  const first = numbers[0]
  const second = numbers[1]
  if (!first || first.from > 1) return false
  if (!second) return amountOf(first.meanings.find((x) => x.entry.line.act === 'amount')!)?.loose === true
  for (let i = first.to; i < second.from; i++) if (turn.utterance.words[i]!.norm !== 'and') return false
  return true
}

/** "Might be seven, might be eight": two guesses side by side make a range. */
function widen(turn: Turn, mention: Mention, amount: Amount, by: string): boolean {
  const { state } = turn
  const target = state.last.filter((d) => d.dead === null && typeof d.value === 'number' && d.features.hedged === 1 && d.turn === state.turn && Math.abs(d.value - amount.lo) <= 2 && d.value !== amount.lo)
  if (target.length === 0 || amount.hi > amount.lo || !/^(be|or|maybe|possibly|perhaps|even)$/.test(previousWord(turn, mention))) return false
  const all = turn.utterance.words
  for (let i = mention.from - 1; i >= 0 && all[i]!.start >= target[0]!.evidence[0]!.end; i--) if (!/^(be|or|might|could|maybe|possibly|perhaps|even)$/.test(all[i]!.norm) && !all[i]!.filler) return false
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
  const target = state.last.filter((d) => d.dead === null && (typeof d.value === 'number' || Array.isArray(d.value)) && state.turn - d.turn <= 2)
  if (target.length === 0) return false
  const cue = repairBefore(turn, mention)
  if (!cue) return false
  const field = target[0]!.field
  const percent = fieldInfo(field)?.unit === 'percent'
  const said = target[0]!.saidIn
  const value = percent ? percentOf(amount) : said ? convert(valueOf(amount), said, turn.region) : valueOf(amount)
  for (const draft of target) {
    draft.alternatives.unshift({ value: draft.value, why: 'corrected', start: draft.evidence[0]!.start, end: draft.evidence[0]!.end })
    draft.value = value
    draft.evidence.push({ start: mention.start, end: mention.end, by })
    draft.features.revised = 1
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
    if (norm === 'say' && i === mention.from - 1 && (i === 0 || all[i]!.brk > 0)) strong = true
    if (!REPAIR.has(norm) && !all[i]!.filler && !/^(call|make|say|scratch|strike|that|hang|hold|on|i|mean|tell|a|lie|nearer|closer|to|more|like|probably)$/.test(norm)) break
  }
  return strong
}

/** A number that answers a question ("how many seams?" "seven"). */
function answerNumber(turn: Turn, mention: Mention, amount: Amount, by: string): boolean {
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
    for (const draft of state.last) if (draft.field === pending.field) draft.value = info.unit === 'percent' ? percentOf(amount) : valueOf(amount)
    state.last[0]!.evidence.push({ start: mention.start, end: mention.end, by })
    turn.emitted.push(state.last[0]!)
    return true
  }
  put(turn, pending.field, info.unit === 'percent' ? percentOf(amount) : valueOf(amount), by, { how: 'carried' })
  return true
}

const CONTENT_OF: Readonly<Record<string, string>> = { stores: 'honey', honey: 'honey', brood: 'brood', bees: 'bees', nectar: 'nectar', pollen: 'pollen', foundation: 'foundation', comb: 'drawn' }
const HANDLED = new Set(['took', 'take', 'taken', 'taking', 'pulled', 'pull', 'gave', 'give', 'put', 'add', 'added', 'swapped', 'moved', 'move', 'robbed', 'need', 'needs', 'want', 'wants', 'spare', 'off', 'removed', 'cut', 'order', 'bought', 'were', 'was', 'had'])

/** "Capped brood? Half a frame, maybe." Frames of what was spoken of last. */
export function framesOf(turn: Turn, mention: Mention, meaning: Meaning): void {
  const { state } = turn
  const amount = amountOf(meaning)
  if (!amount || state.inHand || amount.lo > 40 || blockedBy(mention) || clauseHas(turn, mention, HANDLED) || topicNumber(turn, mention, amount, meaning.entry.id)) return
  const content = spokenOf(turn)
  if (!content || stands(mention.standing, 'question')) return
  for (const draft of emitCount(turn, mention, content, amount, meaning.entry.id)) {
    draft.how = 'carried'
    draft.features.weak = 0.2
  }
}

/** What frames were counted of just now: what was asked for, or whichever of content and topic came up last. */
function spokenOf({ state }: Turn): string | undefined {
  const { pending } = state
  if (pending?.field?.startsWith('content:') && state.turn - pending.turn <= 1) return pending.field.slice(8)
  const content = state.turn - state.contentTurn <= 1 ? (state.lastContent ?? undefined) : undefined
  const topic = state.topic && state.turn - state.topicTurn <= (content ? 1 : 3) ? CONTENT_OF[state.topic] : undefined
  return topic && (!content || state.topicTurn > state.contentTurn) ? topic : content
}

/** "So five down here", "eleven all told": the frames of brood of a box or a hive, summed up. */
export function boxTotal(turn: Turn, mention: Mention, meaning: Meaning): void {
  const { state } = turn
  const amount = amountOf(meaning)
  if (!amount || amount.percent || amount.hi > 24 || inSuper(state) || blockedBy(mention)) return
  const counted = state.drafts.slice(-40).filter((d) => d.hive === state.hive && !d.dead && (/^frames\.(brood|bees|cappedBrood)/.test(d.field) || (d.field === 'frame.holds' && /brood|larvae|eggs/i.test(String(d.value)))))
  const field = counted.findLast((d) => /^frames\./.test(d.field))?.field ?? (counted.length > 0 ? 'frames.brood' : undefined)
  if (field === undefined) return
  for (const draft of put(turn, field, valueOf(amount), meaning.entry.id, { frame: null, ...(meaning.entry.line.note === 'hive' ? { box: null } : {}) })) draft.features.weak = 0.1
  leaveFrame(state)
}

/** A number right behind its subject: "Stores. Nine frames." "Beetles? Four." */
function topicNumber(turn: Turn, mention: Mention, amount: Amount, by: string): boolean {
  const { state } = turn
  const topic = topicOf(state)
  if (topic === null || amount.percent || state.turn - state.topicTurn > 1) return false
  if (stands(mention.standing, 'question')) return false
  const previous = previousWord(turn, mention)
  if (previous === 'frame' || previous === 'number' || nextWord(turn, mention) === 'of') return false
  if (topic.startsWith('count:')) {
    emitCount(turn, mention, topic.slice(6), amount, by)
    return true
  }
  if (topic.startsWith('number:')) {
    put(turn, topic.slice(7), valueOf(amount), by, { how: 'carried' })
    state.topic = topic.slice(7).replace(/\.count$/, '')
    return true
  }
  return false
}

