import { aroundOf, few, isTalkedOf, MANY } from './around.ts'
import { AT_ONCE, each, type Work } from './bit-by-bit.ts'
import type { MaybeCall } from './calls.ts'
import { type CallNet, createOddsOf, cuesOfOdds, plainNumberOf, type Spoken } from './context.ts'
import type { Weighed } from './follow.ts'
import { afterStep, besideFrame, type FrameInHand, type FrameStep, WALK_LASTS } from './frame-walk.ts'
import { Layered } from './layered.ts'
import type { LearnedOfCalls } from './learned.ts'
import type { WholeNote } from './names.ts'
import { sortOf } from './sorts.ts'
import { COMB_TALK, TOPIC_COUNT, type Topical } from './topics.ts'
import { addTop, cuesOfTop, newTops, type Tops, topsOnTop } from './tops.ts'
import { wholeSteps } from './whole-steps.ts'

/** Words behind a call in which what is spoken of tells whether a hive begins here. */
const AHEAD = 18

/** Weighs calls again and again while a note grows; a call of which the note tells the same as before is the same object. */
export interface Scales {
  /**
   * To each call what the whole note tells of it. `calls` are all of the note, or those behind what was counted `before`;
   * `topics` and `frames` are those of the whole note, in order.
   */
  weigh(
    calls: readonly Said[],
    note: WholeNote,
    topics: readonly Topical[],
    frames: readonly FrameStep[],
    before?: Counts,
  ): Work<readonly Weighed[]>
  /** Counts calls that are settled. */
  count(counts: Counts, calls: readonly Said[], topics: readonly Topical[], frames: readonly FrameStep[]): Work<unknown>
}

/** What may be a call, and the words of the note before it. */
export interface Said {
  readonly call: MaybeCall
  readonly word: number
}

/** What is counted of the calls of a note. */
export interface Counts {
  /** How often each label was said, and called by a line of the grammar. */
  readonly said: Layered<number>
  readonly called: Layered<number>
  lines: number
  /** How often each label stands where a hive is called. */
  readonly stands: Layered<number>
  /** Hives called in hundreds: "one forty two". */
  hundreds: number
  /** Labels that are no numbers by each of their words and by their sort, and whether they stand where a hive is called. */
  readonly kin: Layered<Layered<boolean>>
  /** How many topics were gone over, and the word at which each was met last. */
  topicsTo: number
  readonly last: number[]
  /** The rows of numbers that may go on. */
  readonly rows: Rows
  /** How many steps from frame to frame were gone over, and the frame in hand. */
  framesTo: number
  frame: FrameInHand | null
  /** How likely each label calls a hive at its likeliest. */
  readonly tops: Tops
}

export const newCounts = (): Counts => ({
  said: new Layered(),
  called: new Layered(),
  lines: 0,
  stands: new Layered(),
  hundreds: 0,
  kin: new Layered(),
  topicsTo: 0,
  last: new Array<number>(TOPIC_COUNT).fill(-1),
  rows: new Layered(),
  framesTo: 0,
  frame: null,
  tops: newTops(),
})

/** Counts that go on counting on top of others, which they leave as they are. */
export const countsOnTop = (counts: Counts): Counts => ({
  ...counts,
  said: new Layered(counts.said),
  called: new Layered(counts.called),
  stands: new Layered(counts.stands),
  kin: new Layered(counts.kin),
  last: [...counts.last],
  rows: new Layered(counts.rows),
  tops: topsOnTop(counts.tops),
})

/** What the words of a call alone tell of its labels. */
interface Labelled {
  readonly label: string
  /** Where it calls one hive by number: the number, and what stands before it. */
  readonly number: { readonly n: number; readonly prefix: string } | null
  readonly isPlainNumber: boolean
  /** The number is called a frame's: "frame three". */
  readonly isFrame: boolean
  /** "One forty two". */
  readonly isHundreds: boolean
  /** By what other labels are of its kind: its sort, and each of its words. */
  readonly kin: readonly string[]
}

const labelled = new WeakMap<MaybeCall, Labelled>()

function labelledOf(call: MaybeCall): Labelled {
  let known = labelled.get(call)
  if (!known) {
    const label = call.labels.join('+')
    const number = call.labels.length === 1 ? /^(nuc )?(\d+)$/.exec(label) : null
    known = {
      label,
      number: number && { n: Number(number[2]), prefix: number[1] ?? '' },
      isPlainNumber: plainNumberOf(call) !== null,
      isFrame: call.cues.some((cue) => /^b1 (frame|frames|comb|bar)$/.test(cue)),
      isHundreds: call.cues.includes('shape hundreds'),
      kin: [`sort ${sortOf(label)}`, ...label.split(' ')],
    }
    labelled.set(call, known)
  }
  return known
}

/**
 * Counts the next calls of a note; the rows of numbers that lead up to each, and how it stands to the frame in hand. `oddsOf` is what
 * the net of calls makes of one.
 */
function* count(
  counts: Counts,
  calls: readonly Said[],
  topics: readonly Topical[],
  frames: readonly FrameStep[],
  oddsOf: ((said: Said) => number) | null,
): Work<{ readonly rows: Row[]; readonly beside: readonly string[] }> {
  const { said, called, stands, kin } = counts
  const beside: string[] = []
  for (let i = 0; i < calls.length; i++) {
    if (i % AT_ONCE === AT_ONCE - 1) yield
    const { call, word } = calls[i]!
    meetTopics(counts, topics, word)
    beside.push(meetFrames(counts, frames, call, word))
    const { label, isPlainNumber, isHundreds, kin: keys } = labelledOf(call)
    said.set(label, (said.get(label) ?? 0) + 1)
    if (oddsOf && !call.step) addTop(counts.tops, label, wholeSteps(oddsOf(calls[i]!)))
    if (call.kind === 'line') {
      counts.lines++
      called.set(label, (called.get(label) ?? 0) + 1)
    }
    if (isHundreds) counts.hundreds++
    if (call.labels.length !== 1) continue
    if (call.stands) stands.set(label, (stands.get(label) ?? 0) + 1)
    if (isPlainNumber) continue
    for (const key of keys) {
      const known = kin.get(key)?.get(label)
      if (known === true || (known === false && !call.stands)) continue
      kin.own(key, (below) => new Layered(below)).set(label, call.stands)
    }
  }
  return { rows: yield* rowsOf(calls, 1, counts.rows, topics), beside }
}

/** Goes over the steps from frame to frame before a call, and how its number stands to the frame in hand. */
function meetFrames(counts: Counts, frames: readonly FrameStep[], call: MaybeCall, word: number): string {
  for (; counts.framesTo < frames.length && frames[counts.framesTo]!.word < word; counts.framesTo++)
    counts.frame = afterStep(counts.frame, frames[counts.framesTo]!)
  const { number, isPlainNumber } = labelledOf(call)
  const hand = counts.frame
  const beside = besideFrame(hand, number ? number.n : (hand?.n ?? 0), word)
  if (call.kind === 'line') counts.frame = null
  else if (
    hand &&
    number &&
    isPlainNumber &&
    number.n > hand.n &&
    number.n - hand.n <= 2 &&
    word - hand.word < WALK_LASTS
  )
    counts.frame = { n: number.n, word }
  return beside
}

/** `given` are labels of the yard file, `spoken` the words of the note. */
export function createScales(
  given: ReadonlySet<string>,
  net: CallNet | undefined,
  wordsTell: LearnedOfCalls['words'] | undefined,
  spoken: readonly Spoken[],
): Scales {
  const oddsOf = net && createOddsOf(net)
  const oddsOfSaid = oddsOf ? ({ call, word }: Said): number => oddsOf(call, word, spoken) : null
  const known = new WeakMap<MaybeCall, { readonly told: readonly string[]; readonly weighed: Weighed }>()
  return {
    *weigh(calls, note, topics, frames, before = newCounts()) {
      const told = yield* toldOf(calls, note, given, topics, frames, before, oddsOfSaid, wordsTell)
      const counts = { topicsTo: before.topicsTo, last: [...before.last] }
      return yield* each(calls, ({ call, word }, i) => {
        meetTopics(counts, topics, word)
        const ahead: number[] = []
        for (let k = counts.topicsTo; k < topics.length && topics[k]!.word < word + AHEAD; k++)
          if (!ahead.includes(topics[k]!.topic)) ahead.push(topics[k]!.topic)
        const earlier = known.get(call)
        if (earlier && isAlike(earlier.told, told[i]!) && isAlike(earlier.weighed.ahead, ahead)) return earlier.weighed
        const cues = [
          ...call.cues,
          ...told[i]!,
          `ahead ${Math.min(4, ahead.length)}`,
          ...ahead.slice(0, 3).map((topic) => `on ${topic}`),
        ]
        if (ahead.includes(COMB_TALK)) cues.push('comb ahead')
        const weighed = { call, word, cues, ahead, last: [...counts.last] }
        known.set(call, { told: told[i]!, weighed })
        return weighed
      })
    },
    count: (counts, calls, topics, frames) => count(counts, calls, topics, frames, oddsOfSaid),
  }
}

const isAlike = <T>(a: readonly T[], b: readonly T[]): boolean =>
  a.length === b.length && a.every((one, i) => one === b[i])

/** Goes over the topics before a word. */
function meetTopics(
  counts: Pick<Counts, 'last'> & { topicsTo: number },
  topics: readonly Topical[],
  before: number,
): void {
  for (; counts.topicsTo < topics.length && topics[counts.topicsTo]!.word < before; counts.topicsTo++) {
    const { topic, word } = topics[counts.topicsTo]!
    counts.last[topic] = word
  }
}

/** For each call, what the whole note tells of it. */
function* toldOf(
  calls: readonly Said[],
  { evidence, run, learned: names }: WholeNote,
  given: ReadonlySet<string>,
  topics: readonly Topical[],
  frameSteps: readonly FrameStep[],
  before: Counts,
  oddsOf: ((said: Said) => number) | null,
  wordsTell: LearnedOfCalls['words'] | undefined,
): Work<string[][]> {
  const learned = new Set(names)
  const counts = countsOnTop(before)
  const { rows, beside } = yield* count(counts, calls, topics, frameSteps, oddsOf)
  const chains = yield* chainsOf(rows, calls, topics)
  const around = yield* aroundOf(calls, topics)
  const { said, called, lines, stands } = counts
  const length = calls[calls.length - 1]?.word ?? 0
  const combs = topics.reduce((sum, { topic }) => sum + (topic === COMB_TALK ? 1 : 0), 0)
  const combed = few(Math.floor((50 * combs) / (length + 50)))
  const hundreds = few(counts.hundreds)
  const hiveNumbers = new Set(evidence.hiveNumbers)
  const numbers = few(hiveNumbers.size)
  const frames = few(evidence.frameCalls.length)
  const walked = few(evidence.framesWalked)
  const namesKnown = few(learned.size)
  const lastTopic = topics[topics.length - 1]?.word ?? -1
  return yield* each(calls, ({ call, word }, i) => {
    const { label, isHundreds, kin } = labelledOf(call)
    const cues = ['is', ...around[i]!]
    if (lastTopic < word) cues.push('nothing behind')
    if (given.size > 0 && !given.has(label)) cues.push(/\d$/.test(label) ? 'number beside given' : 'beside given')
    const number = /\d$/.test(label)
    cues.push(
      `said ${few(said.get(label) ?? 0)}`,
      `called ${few(called.get(label) ?? 0)}`,
      `lines ${few(lines)}`,
      `numbers ${numbers}`,
      `names ${namesKnown}`,
      `stands ${few(stands.get(label) ?? 0)}`,
    )
    if (number) {
      if (hundreds !== '0') cues.push(isHundreds ? `hundreds ${hundreds}` : `beside hundreds ${hundreds}`)
      cues.push(
        `frames ${frames}`,
        `walked ${walked}`,
        run ? (run.calls.has(call.start) ? 'in run' : 'off run') : 'no run',
      )
      const chain = chains[i]!
      if (chain.length > 2) cues.push(`row stands ${chain.stands}`, `row talk ${chain.talk}`)
      const long = chain.length >= 6 ? '6+' : chain.length >= 4 ? '4+' : String(chain.length)
      cues.push(`chain ${long}`, `chain ${long} frames ${frames}`, `chain ${long} numbers ${numbers}`)
      if (Number(/\d+$/.exec(label)![0]) >= 13) cues.push(`big chain ${long}`)
      if (chain.ofFrames) cues.push('frame goes on')
      // "hive five" behind frame four is no frame
      if (call.kind !== 'line') cues.push(`beside frame ${beside[i]!}`)
      cues.push(`combs ${combed}`, `pace ${chain.pace}`, `pace ${chain.pace} combs ${combed}`)
      if (hiveNumbers.has(Number(/\d+$/.exec(label)![0]))) cues.push('number known')
      if (evidence.orderCalls > 0) cues.push(`ordered ${few(evidence.orderCalls)}`)
    } else {
      const { score = 0, worst = 0, best = 0 } = evidence.scores.get(label) ?? {}
      if (worst < 0) cues.push('person', best > 2 ? 'person called' : 'person only')
      cues.push(`best ${Math.round(best)}`)
      cues.push(`score ${Math.max(-2, Math.min(6, Math.round(score)))}`, `seen ${few(evidence.seen.get(label) ?? 0)}`)
      const sort = sortOf(label)
      const { others, standing } = kinOf(label, kin, counts.kin)
      // "Frame six, capped. Ours.": what becomes of the frame
      if (sort === 'own' && beside[i] === '+0 near') cues.push('own beside frame')
      cues.push(`sort ${sort}`, `kin ${few(others)}`, `kin ${sort} ${few(standing)}`, `kin stands ${few(standing)}`)
      if (/^(nuc|swarm|split)$/.test(label)) cues.push(call.inside ? 'kind inside' : 'kind')
      if (given.has(label)) cues.push('learned', call.inside ? 'given inside' : 'given')
      else if (learned.has(label)) cues.push('learned')
    }
    if (wordsTell && !call.step) cues.push(...wordsTell(label))
    if (oddsOf) {
      const odds = oddsOf(calls[i]!)
      cues.push(...cuesOfOdds(odds, given.size > 0))
      if (!call.step) cues.push(...cuesOfTop(counts.tops, label, wholeSteps(odds)))
    }
    return cues
  })
}

/**
 * How many other labels of the note are of the same sort (paints, places, letters, owners; of other words those that stand where
 * a hive is called) or share a word ("red door", "green door"): hives of one yard go by one kind of name. And how many of
 * them stand where a hive is called.
 */
function kinOf(label: string, keys: readonly string[], kin: Counts['kin']): { others: number; standing: number } {
  const others = new Map<string, boolean>()
  let standing = 0
  for (const key of keys)
    for (const [other, stands] of kin.get(key)?.entries() ?? []) {
      if (other === label || others.has(other) || (!stands && key === 'sort word')) continue
      others.set(other, stands)
      if (stands) standing++
      // more than so many count the same
      if (standing === MANY) return { others: others.size, standing }
    }
  return { others: others.size, standing }
}

interface Chain {
  /** How many numbers in a row, each one more than the last, go through this one. */
  readonly length: number
  /** The row began with a frame that was called so: "frame three … four". */
  readonly ofFrames: boolean
  /** How far its numbers stand apart where this one stands. */
  readonly pace: 'alone' | 'quick' | 'steady' | 'slow'
  /** How many of its numbers stand where a hive is called, and are followed by talk of a hive: 0 for none to 3 for all. */
  readonly stands: number
  readonly talk: number
}

/** The part of a chain on one side of a number. */
interface Row {
  readonly length: number
  readonly ofFrames: boolean
  /** Words to the number beside it. */
  readonly gap: number
  /** How many of them stand where a hive is called, and are followed by talk of a hive. */
  readonly stands: number
  readonly talk: number
}

/** Words that numbers of a row stand apart at least. */
const APART = 5
/** The last number of each row, by what was counted and how far. */
type Rows = Layered<Row & { readonly word: number }>

/** For each call by number, the longest row of numbers that it could be part of; `up` are those that lead up to it. */
function* chainsOf(up: readonly Row[], calls: readonly Said[], topics: readonly Topical[]): Work<Chain[]> {
  const down = (yield* rowsOf([...calls].reverse(), -1, new Layered(), topics)).reverse()
  return calls.map((_, i) => {
    const gap = Math.min(up[i]!.gap, down[i]!.gap)
    return {
      length: up[i]!.length + down[i]!.length - 1,
      ofFrames: up[i]!.ofFrames,
      stands: Math.round((3 * (up[i]!.stands + down[i]!.stands)) / (up[i]!.length + down[i]!.length)),
      talk: Math.round((3 * (up[i]!.talk + down[i]!.talk)) / (up[i]!.length + down[i]!.length)),
      pace: gap < 14 ? 'quick' : gap < 32 ? 'steady' : gap < 150 ? 'slow' : 'alone',
    }
  })
}

function rowsOf(calls: readonly Said[], step: 1 | -1, last: Rows, topics: readonly Topical[]): Work<Row[]> {
  return each(calls, ({ call, word }) => {
    const { number, isFrame } = labelledOf(call)
    if (!number) return { length: 1, ofFrames: false, gap: Number.POSITIVE_INFINITY, stands: 0, talk: 0 }
    const { n, prefix } = number
    const before = last.get(`${prefix}${n - step}`)
    const goesOn = before !== undefined && Math.abs(word - before.word) >= APART
    const ofFrames = isFrame || (before?.ofFrames === true && Math.abs(word - before.word) <= WALK_LASTS)
    const length = goesOn && !isFrame ? before.length + 1 : 1
    const gap = goesOn ? Math.abs(word - before.word) : Number.POSITIVE_INFINITY
    const on = goesOn && !isFrame ? before : undefined
    const stands = (on?.stands ?? 0) + (call.stands ? 1 : 0)
    const talk = (on?.talk ?? 0) + (isTalkedOf(word, topics) ? 1 : 0)
    const here = { length, ofFrames, gap, word, stands, talk }
    const known = last.get(`${prefix}${n}`)
    // a longer row to the same number holds, unless it was long ago
    if (!known || here.length >= known.length || here.ofFrames) last.set(`${prefix}${n}`, here)
    return here
  })
}
