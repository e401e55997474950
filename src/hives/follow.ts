import type { MaybeCall } from './calls.ts'

/** A call with all that its words and the whole note tell, ready to be weighed. */
export interface Weighed {
  readonly call: MaybeCall
  /** Words of the note before it. */
  readonly word: number
  readonly cues: readonly string[]
}

/** One way through a note: which calls were taken, and what was in hand then. */
export interface Path {
  readonly score: number
  readonly labels: readonly string[]
  readonly call: Weighed | null
  readonly before: Path | null
  readonly kind: string
  readonly seen: readonly string[]
  readonly other: readonly string[]
  readonly taken: number
  /** For learning: how many labelled facts are wrong on it. */
  readonly wrong: number
}

export type Weights = ReadonlyMap<string, number>

export const START: Path = {
  score: 0,
  labels: [''],
  call: null,
  before: null,
  kind: 'none',
  seen: [],
  other: [],
  taken: 0,
  wrong: 0,
}

const numberOf = (label: string): number | null => {
  const hit = /(\d+)$/.exec(label)
  return hit ? Number(hit[1]) : null
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

/** What taking a call would mean on this path. */
export function stepCues(path: Path, weighed: Weighed, to: readonly string[]): string[] {
  const { call } = weighed
  const out: string[] = []
  const label = to[0]!
  const same = label === path.labels[0]
  const n = numberOf(label)
  const m = numberOf(path.labels[path.labels.length - 1]!)
  const known = path.seen.includes(label)
  out.push(same ? 'same' : known ? 'back' : path.taken === 0 ? 'opens' : 'new')
  const sort = n === null ? 'word' : label.startsWith('nuc') ? 'nuc' : 'number'
  out.push(`after ${path.kind}`, `${sort} after ${path.taken === 0 ? 'none' : m === null ? 'word' : 'number'}`)
  if (n !== null && m !== null && path.taken > 0) {
    const gap = n - m
    out.push(
      gap === 1
        ? '+1'
        : gap === 2
          ? '+2'
          : gap > 2 && gap < 10
            ? 'up'
            : gap === 0
              ? '+0'
              : gap === -1
                ? '-1'
                : gap < 0
                  ? 'down'
                  : 'far',
    )
    if (gap === 1 && !known) out.push('+1 new')
  }
  if (path.taken === 0 && n === 1) out.push('opens with one')
  const gap = weighed.word - (path.call ? path.call.word : 0)
  out.push(gap < 6 ? 'at once' : gap < 20 ? 'soon' : gap < 60 ? 'later' : gap < 150 ? 'late' : 'long after')
  const first = path.seen[0]
  if (first !== undefined && first !== '') out.push((numberOf(first) === null) === (n === null) ? 'kin' : 'odd one')
  return ofKindAndAny(call.kind, out)
}

/** Cues as those of one kind of call, and as those of any. */
export const ofKindAndAny = (kind: MaybeCall['kind'], cues: readonly string[]): string[] => [
  ...cues.map((cue) => `${kind}|${cue}`),
  ...cues.map((cue) => `*|${cue}`),
]

export const sum = (cues: readonly string[], weights: Weights): number => {
  let out = 0
  for (const cue of cues) out += weights.get(cue) ?? 0
  return out
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

/** Goes over one call: each way leaves it or takes it. */
function over(beam: Beam, weighed: Weighed, base: number, weights: Weights): Step {
  const grown = [...beam]
  for (const path of beam) {
    if (path.call && path.call.call.end > weighed.call.start) continue
    const to = goesTo(path, weighed.call)
    if (!to) continue
    const isNew = to.some((label) => !path.seen.includes(label))
    grown.push({
      score: path.score + base + sum(stepCues(path, weighed, to), weights),
      labels: to,
      call: weighed,
      before: path,
      kind: weighed.call.kind,
      seen: isNew ? [...new Set([...path.seen, ...to])] : path.seen,
      other: to[0] !== path.labels[0] && path.taken > 0 ? path.labels : path.other,
      taken: path.taken + 1,
      wrong: path.wrong,
    })
  }
  grown.sort((a, b) => b.score - a.score)
  const kept = new Map<string, Path>()
  const takes: Take[] = []
  for (const path of grown) {
    const key = `${path.labels.join('+')}|${path.call?.word ?? ''}`
    const known = kept.get(key)
    if (!known && kept.size === BEAM) continue
    if (!known) kept.set(key, path)
    if (path.call === weighed)
      takes.push({ from: path.before!, to: known ?? path, gain: path.score - path.before!.score })
  }
  return { weighed, beam: [...kept.values()], takes }
}

/**
 * The best ways through a note, the best first, for learning. Each labelled place with a wrong hive in hand adds `cost` to
 * the score of a way: positive finds the worst mistake, hugely negative the best way that is right.
 */
export function follow(calls: readonly Weighed[], weights: Weights, due: readonly Due[], cost: number): Beam {
  let beam: Beam = [START]
  let next = 0
  const charge = (upTo: number): void => {
    while (next < due.length && due[next]!.at < upTo) {
      const { labels } = due[next]!
      beam = beam.map((p) =>
        p.labels.some((label) => labels.includes(label)) ? p : { ...p, score: p.score + cost, wrong: p.wrong + 1 },
      )
      next++
    }
  }
  for (const weighed of calls) {
    charge(weighed.call.start)
    beam = over(beam, weighed, sum(weighed.cues, weights), weights).beam
  }
  charge(Number.POSITIVE_INFINITY)
  return [...beam].sort((a, b) => b.score - a.score)
}

/** Ways through a note that grows. */
export interface Walk {
  /** The best way over some calls, behind `begin`. What is the same as when it was asked last is not gone over again. */
  best(calls: readonly Weighed[], begin?: Path): Path
  /** Goes over some calls for about so many milliseconds; true when `best` has nothing left to go over. */
  goOn(calls: readonly Weighed[], ms: number): boolean
  /** The calls that were gone over for it. */
  steps(): readonly Step[]
}

export function createWalk(weights: Weights): Walk {
  const gone: Step[] = []
  let from = START
  const go = (calls: readonly Weighed[], begin: Path, until: number): boolean => {
    if (begin !== from) gone.length = 0
    from = begin
    let same = 0
    while (same < gone.length && same < calls.length && gone[same]!.weighed === calls[same]) same++
    gone.length = same
    for (const weighed of calls.slice(same)) {
      const beam = gone[gone.length - 1]?.beam ?? [from]
      gone.push(over(beam, weighed, sum(weighed.cues, weights), weights))
      if (performance.now() >= until) return gone.length === calls.length
    }
    return true
  }
  return {
    best(calls, begin = START) {
      go(calls, begin, Number.POSITIVE_INFINITY)
      return gone[gone.length - 1]?.beam[0] ?? from
    },
    goOn: (calls, ms) => go(calls, START, performance.now() + ms),
    steps: () => gone,
  }
}
