import type { Grammar } from '../grammar/grammar.ts'
import type { Utterance } from '../language/word.ts'
import { each, finish, type Work, workUntil } from './bit-by-bit.ts'
import type { MaybeCall } from './calls.ts'
import { type Spoken, spokenOf } from './context.ts'
import { namesIn } from './described.ts'
import { createWalk, goesTo, type Path, START, type Walk, type Weighed } from './follow.ts'
import { type FrameStep, frameSteps } from './frame-walk.ts'
import { createFinder, type Heard, type NamesNow, type Placed } from './heard.ts'
import type { LearnedOfCalls } from './learned.ts'
import { marginsOf } from './margin.ts'
import type { WholeNote } from './names.ts'
import { type Scorer, STEP_CUES, scorerOf, unpackWeights, worthOfStep } from './score.ts'
import { type Topical, topicOf } from './topics.ts'
import { type Counts, createScales, newCounts } from './weigh.ts'
import fitted from './weights.json' with { type: 'json' }

/** Words that call a hive, or that might have and did not. */
export interface HiveCall {
  readonly start: number
  readonly end: number
  readonly kind: MaybeCall['kind']
  /** What is in hand from here on, if it is taken. */
  readonly labels: readonly string[]
  readonly taken: boolean
  readonly which: boolean
  /** How much the way through the whole note gains by taking it; below 0 it loses. */
  readonly worth: number
  /** By how much the best way through the note beats the best one with another hive in hand after this call. */
  readonly margin: number
}

export interface HiveFollower {
  /** Hears one utterance; the cost is that of the utterance. */
  hear(utterance: Utterance): void
  /** All that may call a hive, for learning. */
  weighed(note: WholeNote): readonly Weighed[]
  /**
   * The calls of what was heard so far, as the whole of it shows them. `misheard` are words that were probably meant for a hive
   * of the yard file. What has not changed since it was asked last is not worked out again.
   */
  whole(note: WholeNote, misheard?: ReadonlyMap<string, string>): WholeTraced
  /** Works for about so many milliseconds on what `whole` gives; null as long as something is left to do. */
  wholeIn(ms: number, note: WholeNote, misheard?: ReadonlyMap<string, string>): WholeTraced | null
  /**
   * The same for whoever cannot wait: calls of long ago are those of the course that was settled on last. The cost does not
   * grow with the note.
   */
  late(note: WholeNote, misheard?: ReadonlyMap<string, string>): readonly HiveCall[]
  /** Settles on a course of the whole that is up to date, for `late`. */
  settleOn(traced: WholeTraced): void
  /** Keeps what was heard so far, so that `rewind` can go back to it. */
  mark(): void
  rewind(): void
}

let first: Scorer | undefined
/** By the weights that are there at once. Only the page ever has no others: what it costs is not for every start to pay. */
function own(): Scorer {
  first ??= scorerOf(unpackWeights(fitted))
  return first
}

const scorers = new WeakMap<LearnedOfCalls, Scorer>()
/** By what was learned: made once, not for each note. */
function scorerBy(learned: LearnedOfCalls): Scorer {
  let scorer = scorers.get(learned)
  if (!scorer) {
    scorer = scorerOf(learned.weights, learned.together(STEP_CUES))
    scorers.set(learned, scorer)
  }
  return scorer
}

/** From this score up a word might be a hive's name (`names.ts` takes it for one from 2 up). */
const PERHAPS = 0.6

/** So many utterances a call counts as it is said now; those before keep what they showed when they were settled. */
const OPEN = 40
/** So many utterances are settled at once. */
const SETTLED_AT_ONCE = 8

/** How hives are called in what was heard, and what that was made of. */
interface Traced {
  /** The calls, in order of place. */
  readonly calls: readonly HiveCall[]
  /** Utterances that it covers. */
  readonly turns: number
  readonly placed: readonly Placed[]
  readonly weighed: readonly Weighed[]
  readonly best: Path
  readonly margins: () => readonly number[]
}

/** The same with what it settles on; null where too little was heard since. */
export interface WholeTraced extends Traced {
  readonly settled: Settled | null
}

/** What is settled on: of so many utterances. */
interface Settled {
  readonly turns: number
  /** The way through their calls, and those that it takes or leaves. */
  readonly course: Path
  readonly calls: readonly HiveCall[]
  /** What is counted of all that may be calls. */
  readonly counts: Counts
}

const nothing = (): Settled => ({ turns: 0, course: START, calls: [], counts: newCounts() })

/** Follows which hive is in hand. `given` are the yard file's names. */
export function createFollower(
  grammar: Grammar,
  given: ReadonlyMap<string, string>,
  learned?: LearnedOfCalls | undefined,
): HiveFollower {
  const scorer = learned ? scorerBy(learned) : own()
  const heard: Heard[] = []
  /** The utterance in which nucs were first spoken of. */
  let nucs = Number.POSITIVE_INFINITY
  let marked = Number.POSITIVE_INFINITY
  let key = ''
  let names: NamesNow = { hives: new Map(), known: new Set(), described: new Set() }
  let topics: Topical[] = []
  let frames: FrameStep[] = []
  /** Every word, as the net of calls reads it. */
  const spoken: Spoken[] = []
  /** Words that hives may go by, and how often they were said so. */
  const said = new Map<string, number>()
  const find = createFinder(grammar)
  const scales = createScales(new Set(given.values()), learned?.callNet, learned?.words, spoken)
  const walk = createWalk(scorer)
  const lateWalk = createWalk(scorer)
  let settled = nothing()
  /** All that may call a hive, weighed, as long as nothing more is heard. */
  let ready: { readonly placed: readonly Placed[]; readonly weighed: readonly Weighed[] } | null = null
  /** What is being worked out of the whole, as long as nothing more is heard. */
  let inWork: Work<WholeTraced> | null = null

  const namesNow = ({ evidence }: WholeNote, misheard: ReadonlyMap<string, string> = new Map()): NamesNow => {
    const hives = new Map<string, string>()
    for (const [name, { score }] of evidence.scores) if (score >= PERHAPS) hives.set(name, name)
    for (const [name, times] of evidence.seen) if (times > 0) hives.set(name, name)
    for (const [name, label] of [...misheard, ...given]) hives.set(name, label)
    const known = new Set([...evidence.hiveNumbers.map(String), ...hives.values()])
    if (nucs < heard.length) known.add('nuc')
    const described = new Set<string>()
    for (const [name, times] of said)
      if (!name.startsWith('?')) described.add(name)
      else if (times > 1) described.add(name.slice(1))
    const now = [...hives.keys(), '', ...known, '', ...described].join()
    if (now !== key) names = { hives, known, described }
    key = now
    return names
  }
  /** What may call a hive from an utterance on. */
  const placed = (from: number, note: WholeNote, misheard?: ReadonlyMap<string, string>): Placed[] => {
    const now = namesNow(note, misheard)
    return heard.slice(from).flatMap((one) => find(one, now))
  }
  /** What to settle on of a course that goes on from `last`: the utterances of long ago. */
  function* settling(traced: Traced, last: Settled): Work<Settled | null> {
    const turns = Math.min(traced.turns - OPEN, marked)
    if (turns - last.turns < SETTLED_AT_ONCE) return null
    const { start } = heard[turns]!.utterance
    let course = traced.best
    while (course !== last.course && course.call!.call.start >= start) course = course.before!
    const old = traced.placed.filter(({ turn }) => turn < turns)
    const { counts } = last
    yield* scales.count(counts, old, topics, frames)
    const calls = alongside(course, last.course, traced.weighed.slice(0, old.length), scorer, traced.margins)
    return { turns, course, calls: [...last.calls, ...calls], counts }
  }
  function* allWeighed(note: WholeNote, misheard?: ReadonlyMap<string, string>): Work<NonNullable<typeof ready>> {
    if (ready) return ready
    const now = namesNow(note, misheard)
    const all = (yield* each(heard, (one) => find(one, now))).flat()
    ready = { placed: all, weighed: yield* scales.weigh(all, note, topics, frames) }
    return ready
  }
  function* tracing(note: WholeNote, misheard?: ReadonlyMap<string, string>): Work<WholeTraced> {
    const { placed, weighed } = yield* allWeighed(note, misheard)
    const best = yield* walk.going(weighed)
    const known = yield* marginsOf(walk.steps())
    const margins = (): readonly number[] => known
    const calls = alongside(best, START, weighed, scorer, margins)
    const traced = { turns: heard.length, placed, weighed, best, margins, calls }
    return { ...traced, settled: yield* settling(traced, nothing()) }
  }
  const begun = (note: WholeNote, misheard?: ReadonlyMap<string, string>): Work<WholeTraced> => {
    inWork ??= tracing(note, misheard)
    return inWork
  }
  return {
    hear(utterance) {
      ready = null
      inWork = null
      const last = heard[heard.length - 1]
      const word = last ? last.word + last.utterance.words.length : 0
      heard.push({ utterance, word, turn: heard.length, calls: [], names: null })
      for (const name of namesIn(utterance.words)) said.set(name, (said.get(name) ?? 0) + 1)
      utterance.words.forEach((one, i) => {
        const topic = topicOf(one)
        if (topic !== undefined) topics.push({ word: word + i, topic })
      })
      frames.push(...frameSteps(utterance.words, word))
      spoken.push(...spokenOf(utterance.words))
      if (utterance.words.some(({ norm }) => norm === 'nuc' || norm === 'nucs')) nucs = Math.min(nucs, heard.length - 1)
    },
    weighed: (note) => finish(allWeighed(note)).weighed,
    whole(note, misheard) {
      const traced = finish(begun(note, misheard))
      inWork = null
      return traced
    },
    wholeIn(ms, note, misheard) {
      const done = workUntil(begun(note, misheard), performance.now() + ms)
      if (done) inWork = null
      return done?.result ?? null
    },
    late(note, misheard) {
      const { turns, course, calls, counts } = settled
      const open = placed(turns, note, misheard)
      const weighed = finish(scales.weigh(open, note, topics, frames, counts))
      const best = lateWalk.best(weighed, course)
      const margins = marginsIn(lateWalk)
      const traced = { turns: heard.length, placed: open, weighed, best, margins, calls: [] }
      settled = finish(settling(traced, settled)) ?? settled
      return [...calls, ...alongside(best, course, weighed, scorer, margins)]
    },
    settleOn(traced) {
      settled = traced.settled ?? nothing()
    },
    mark() {
      marked = heard.length
    },
    rewind() {
      ready = null
      inWork = null
      for (const { utterance } of heard.slice(marked))
        for (const name of namesIn(utterance.words)) said.set(name, said.get(name)! - 1)
      for (const [name, times] of said) if (times === 0) said.delete(name)
      heard.length = Math.min(heard.length, marked)
      const last = heard[heard.length - 1]
      const words = last ? last.word + last.utterance.words.length : 0
      topics = topics.filter(({ word }) => word < words)
      frames = frames.filter(({ word }) => word < words)
      spoken.length = words
      if (nucs >= marked) nucs = Number.POSITIVE_INFINITY
    },
  }
}

/** By how much the best way is better than the best with another hive in hand, after each call; worked out when asked for. */
function marginsIn(walk: Walk): () => readonly number[] {
  const steps = [...walk.steps()]
  let margins: readonly number[] | undefined
  return () => {
    margins ??= finish(marginsOf(steps))
    return margins
  }
}

/** Every call that a path takes or leaves behind `begin`, and what it is worth there (worked out when asked for). */
function alongside(
  best: Path,
  begin: Path,
  all: readonly Weighed[],
  scorer: Scorer,
  margins: () => readonly number[],
): HiveCall[] {
  const taken = new Map<Weighed, Path>()
  for (let at = best; at !== begin; at = at.before!) taken.set(at.call!, at)
  let path = begin
  return all.flatMap((weighed, i): HiveCall[] => {
    const { start, end, kind, which } = weighed.call
    const here = taken.get(weighed)
    const labels = here ? here.labels : goesTo(path, weighed.call)
    if (!labels) return []
    const from = path
    if (here) path = here
    let worth: number | undefined
    return [
      {
        start,
        end,
        kind,
        labels,
        taken: here !== undefined,
        which,
        get margin() {
          return margins()[i]!
        },
        get worth() {
          worth ??= worthOfStep(from, weighed, labels, scorer)
          return worth
        },
      },
    ]
  })
}
