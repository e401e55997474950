import { AT_ONCE, finish, type Work } from './bit-by-bit.ts'
import type { MaybeCall } from './calls.ts'
import { runAfter, type Scorer, worthOfStep } from './score.ts'

/** A call with all that its words and the whole note tell, ready to be weighed. */
export interface Weighed {
  readonly call: MaybeCall
  /** Words of the note before it. */
  readonly word: number
  readonly cues: readonly string[]
  /** What is spoken of in the next words, and where each topic was spoken of last before (`topics.ts`). */
  readonly ahead: readonly number[]
  readonly last: readonly number[]
}

/** One way through a note: which calls were taken, and what was in hand then. */
export interface Path {
  readonly score: number
  readonly labels: readonly string[]
  readonly call: Weighed | null
  readonly before: Path | null
  readonly seen: readonly string[]
  readonly other: readonly string[]
  readonly taken: number
  /** How many numbers each one more than the last were called just now. */
  readonly run: number
  /** For learning: how many labelled facts are wrong on it. */
  readonly wrong: number
}

export const START: Path = {
  score: 0,
  labels: [''],
  call: null,
  before: null,
  seen: [],
  other: [],
  taken: 0,
  run: 0,
  wrong: 0,
}

/** What would be in hand after a call, or null where it makes no sense. */
export function goesTo(path: Path, call: MaybeCall): readonly string[] | null {
  if (call.step === 'next') {
    const hit = /^(nuc )?(\d+)$/.exec(path.labels[path.labels.length - 1]!)
    return hit ? [`${hit[1] ?? ''}${Number(hit[2]) + 1}`] : null
  }
  if (call.step === 'other') return path.other.length > 0 ? path.other : null
  return call.labels
}

/** Paths kept at each place. */
const BEAM = 12

/** A labelled place: after it, one of these labels should be in hand. */
export interface Due {
  readonly at: number
  readonly labels: readonly string[]
}

/** The best ways through a note up to one call, the best first. */
type Beam = readonly Path[]

/** A way that takes a call, and the one of the next beam that it became or was merged into. */
interface Take {
  readonly from: Path
  readonly to: Path
  readonly gain: number
}

/** A call that was gone over: the ways after it, and how those that take it came about. */
export interface Step {
  readonly weighed: Weighed
  readonly beam: Beam
  readonly takes: readonly Take[]
}

/** A way that may be gone on, before it is known whether it is kept. */
interface Way {
  readonly score: number
  readonly path: Path
  /** What is in hand then; null where the call is left. */
  readonly to: readonly string[] | null
}

/** Goes over one call: each way leaves it or takes it. */
function over(beam: Beam, weighed: Weighed, scorer: Scorer): Step {
  const { call } = weighed
  const ways: Way[] = []
  for (const path of beam) {
    if (path.call && path.call.call.end > call.start) continue
    const to = goesTo(path, call)
    if (to) ways.push({ score: path.score + worthOfStep(path, weighed, to, scorer), path, to })
  }
  if (ways.length === 0) return { weighed, beam, takes: [] }
  for (const path of beam) ways.push({ score: path.score, path, to: null })
  ways.sort((a, b) => b.score - a.score)
  const kept: Path[] = []
  const takes: Take[] = []
  for (const way of ways) {
    const { path, to, score } = way
    const labels = to ?? path.labels
    const at = to ? weighed : path.call
    let here = kept.find((k) => k.call === at && sameLabels(k.labels, labels))
    if (!here) {
      if (kept.length === BEAM) continue
      here = to ? taken(way, weighed, to) : path
      kept.push(here)
    }
    if (to) takes.push({ from: path, to: here, gain: score - path.score })
  }
  return { weighed, beam: kept, takes }
}

const taken = ({ score, path }: Way, weighed: Weighed, to: readonly string[]): Path => ({
  score,
  labels: to,
  call: weighed,
  before: path,
  seen: to.every((label) => path.seen.includes(label)) ? path.seen : [...new Set([...path.seen, ...to])],
  other: to[0] !== path.labels[0] && path.taken > 0 ? path.labels : path.other,
  taken: path.taken + 1,
  run: runAfter(path, to),
  wrong: path.wrong,
})

/**
 * The way that takes nothing but the last words that say which hive it was, for a note in which no call is worth taking: nothing is
 * told behind them.
 */
function wayOfWhich(begin: Path, calls: readonly Weighed[]): Path | null {
  const last = calls.findLast(({ call }) => call.which)
  const to = last && goesTo(begin, last.call)
  return to ? taken({ score: begin.score, path: begin, to }, last, to) : null
}

/** Whether the same hives are in hand. */
export const sameLabels = (a: readonly string[], b: readonly string[]): boolean =>
  a === b || (a.length === b.length && a.every((label, i) => label === b[i]))

/**
 * The best ways through a note, the best first, for learning. Each labelled place with a wrong hive in hand adds `cost` to
 * the score of a way: positive finds the worst mistake, hugely negative the best way that is right.
 */
export function follow(calls: readonly Weighed[], scorer: Scorer, due: readonly Due[], cost: number): Beam {
  let beam: Beam = [START]
  let next = 0
  const isRight = (labels: readonly string[], { labels: right }: Due): boolean =>
    labels.some((label) => right.includes(label))
  const chargeUpTo = (upTo: number): void => {
    while (next < due.length && due[next]!.at < upTo) {
      const here = due[next]!
      beam = beam.map((p) => (isRight(p.labels, here) ? p : { ...p, score: p.score + cost, wrong: p.wrong + 1 }))
      next++
    }
  }
  for (const weighed of calls) {
    chargeUpTo(weighed.call.start)
    beam = over(beam, weighed, scorer).beam
  }
  chargeUpTo(Number.POSITIVE_INFINITY)
  return [...beam].sort((a, b) => b.score - a.score)
}

/** Ways through a note that grows. */
export interface Walk {
  /** The best way over some calls, behind `begin`. What is the same as when it was asked last is not gone over again. */
  best(calls: readonly Weighed[], begin?: Path): Path
  /** The same some calls at once. */
  going(calls: readonly Weighed[]): Work<Path>
  /** The calls that were gone over for it. */
  steps(): readonly Step[]
}

export function createWalk(scorer: Scorer): Walk {
  const gone: Step[] = []
  let from = START
  function* go(calls: readonly Weighed[], begin: Path): Work<Path> {
    if (begin !== from) gone.length = 0
    from = begin
    let same = 0
    while (same < gone.length && same < calls.length && gone[same]!.weighed === calls[same]) same++
    gone.length = same
    for (let i = same; i < calls.length; i++) {
      gone.push(over(gone[gone.length - 1]?.beam ?? [from], calls[i]!, scorer))
      if (i % AT_ONCE === 0) yield
    }
    const way = gone[gone.length - 1]?.beam[0] ?? from
    return way.call ? way : (wayOfWhich(way, calls) ?? way)
  }
  return {
    best: (calls, begin = START) => finish(go(calls, begin)),
    going: (calls) => go(calls, START),
    steps: () => gone,
  }
}
