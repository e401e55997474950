import type { Grammar } from '../grammar/grammar.ts'
import type { Utterance } from '../language/word.ts'
import { type MaybeCall, maybeCalls } from './calls.ts'
import { createWalk, goesTo, type Path, stepCues, sum, type Weighed, type Weights } from './follow.ts'
import { marginsOf } from './margin.ts'
import type { WholeNote } from './names.ts'
import { createScales } from './weigh.ts'
import fitted from './weights.json' with { type: 'json' }

/** Words that call a hive, or that might have and did not. */
export interface HiveCall {
  readonly start: number
  readonly end: number
  readonly kind: MaybeCall['kind']
  /** What is in hand from here on, if it is taken. */
  readonly labels: readonly string[]
  readonly taken: boolean
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
   * The calls of what was heard so far, in order of place, as the whole of it shows them. `misheard` are words that were
   * probably meant for a hive of the yard file. What has not changed since it was asked last is not worked out again.
   */
  calls(note: WholeNote, misheard?: ReadonlyMap<string, string>): HiveCall[]
  /** Keeps what was heard so far, so that `rewind` can go back to it. */
  mark(): void
  rewind(): void
}

const own: Weights = new Map(Object.entries(fitted))

/** From this score up a word might be a hive's name (`names.ts` takes it for one from 2 up). */
const PERHAPS = 0.6

/** A call that may be one, where it stands. */
interface Placed {
  readonly call: MaybeCall
  /** Number of its utterance, and words of the note before it. */
  readonly turn: number
  readonly word: number
}

/** Follows which hive is in hand. `given` are the yard file's names; `weights` other ones than those that ship. */
export function createFollower(
  grammar: Grammar,
  given: ReadonlyMap<string, string>,
  weights: Weights = own,
): HiveFollower {
  const heard: { readonly utterance: Utterance; readonly word: number }[] = []
  /** The utterance in which nucs were first spoken of. */
  let nucs = Number.POSITIVE_INFINITY
  let marked = 0
  let key = ''
  let maybe: Placed[] = []
  let read = 0
  const scales = createScales(new Set(given.values()))
  const walk = createWalk(weights)

  const weighed = (note: WholeNote, misheard: ReadonlyMap<string, string> = new Map()): readonly Weighed[] => {
    const { evidence } = note
    const hives = new Map<string, string>()
    for (const [name, { score }] of evidence.scores) if (score >= PERHAPS) hives.set(name, name)
    for (const [name, times] of evidence.seen) if (times > 1) hives.set(name, name)
    for (const [name, label] of [...misheard, ...given]) hives.set(name, label)
    const known = new Set([...evidence.hiveNumbers.map(String), ...hives.values()])
    if (nucs < heard.length) known.add('nuc')
    const now = [...hives.keys(), '', ...known].join()
    if (now !== key) {
      key = now
      maybe = []
      read = 0
    }
    for (; read < heard.length; read++) {
      const { utterance, word } = heard[read]!
      for (const call of maybeCalls(utterance, grammar, { hives, known, yards: new Map() }))
        maybe.push({ call, turn: read, word: word + call.from })
    }
    return scales.weigh(maybe, note)
  }
  return {
    hear(utterance) {
      const last = heard[heard.length - 1]
      heard.push({ utterance, word: last ? last.word + last.utterance.words.length : 0 })
      if (utterance.words.some(({ norm }) => norm === 'nuc' || norm === 'nucs')) nucs = Math.min(nucs, heard.length - 1)
    },
    weighed,
    calls(note, misheard) {
      const all = weighed(note, misheard)
      const best = walk.best(all)
      return alongside(best, all, weights, marginsOf(walk.steps()))
    },
    mark() {
      marked = heard.length
    },
    rewind() {
      heard.length = marked
      if (nucs >= marked) nucs = Number.POSITIVE_INFINITY
      read = Math.min(read, marked)
      maybe = maybe.filter(({ turn }) => turn < marked)
    },
  }
}

/** Every call that a path takes or leaves, and what it is worth there (worked out when asked for). */
function alongside(best: Path, all: readonly Weighed[], weights: Weights, margins: readonly number[]): HiveCall[] {
  const taken = new Map<Weighed, Path>()
  let begin = best
  for (let at = best; at.call && at.before; at = at.before) {
    taken.set(at.call, at)
    begin = at.before
  }
  let path = begin
  return all.flatMap((weighed, i): HiveCall[] => {
    const { start, end, kind } = weighed.call
    const here = taken.get(weighed)
    const labels = here ? here.labels : goesTo(path, weighed.call)
    if (!labels) return []
    const from = path
    if (here) path = here
    return [
      {
        start,
        end,
        kind,
        labels,
        taken: here !== undefined,
        margin: margins[i]!,
        get worth() {
          return sum(weighed.cues, weights) + sum(stepCues(from, weighed, labels), weights)
        },
      },
    ]
  })
}
