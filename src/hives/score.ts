import type { MaybeCall } from './calls.ts'
import type { Path, Weighed } from './follow.ts'
import { sortOf } from './sorts.ts'

/**
 * Kinds of calls, for each of which is learned what a cue is worth; and for all kinds together (`any`).
 */
export const HOW = ['any', 'line', 'maybe', 'local', 'bare', 'name', 'spot', 'letter', 'phrase'] as const
const ANY = 0
const OF_KIND = new Map<string, number>(HOW.map((how, i) => [how, i]))

/** For each cue what it is worth, one number a way of taking a call. */
export type Weights = ReadonlyMap<string, readonly number[] | Float64Array>

/** What a call with some cues, taken in some way by a step with cues of its own, is worth more or less for all of them together (`cue-net.ts`). */
export interface Together {
  /** The sum for the cues of a call, to which those of a step are added. */
  sum(cues: readonly string[]): Float32Array
  worth(sum: Float32Array, taken: number, steps: readonly number[]): number
}

/** What taking calls is worth. */
export interface Scorer {
  /** By the words of a call, the whole note, and the cues of the step to it by number. */
  worth(weighed: Weighed, taken: number, steps: readonly number[]): number
}

/** In which way a call is taken, as an index to `HOW`. */
export const howTaken = ({ kind }: MaybeCall): number => OF_KIND.get(kind)!

/** The cues that a step may have, by number. */
export const STEP_CUES: string[] = []
const cue = (name: string): number => STEP_CUES.push(name) - 1
const few = (name: string, most: number): readonly number[] =>
  Array.from({ length: most + 1 }, (_, i) => cue(`${name} ${i === most ? `${i}+` : i}`))

const STEP = cue('step')
const SAME = cue('same')
const BACK = cue('back')
const OPENS = cue('opens')
const NEW = cue('new')
const AFTER = HOW.map((how) => cue(`after ${how}`))
const SORTS = ['word', 'nuc', 'number'] as const
const SORT_AFTER = SORTS.map((sort) => ['none', 'word', 'number'].map((last) => cue(`${sort} after ${last}`)))
const GAPS = { '+1': 0, '+2': 0, up: 0, '+0': 0, '-1': 0, down: 0, far: 0 }
for (const name of Object.keys(GAPS) as (keyof typeof GAPS)[]) GAPS[name] = cue(name)
const NEXT_NEW = cue('+1 new')
const OPENS_ONE = cue('opens with one')
const BINS = ['at once', 'soon', 'later', 'late', 'long after'] as const
const AFTER_A_WHILE = BINS.map((bin) => cue(bin))
const WENT = (['same', 'back', 'new'] as const).map((how) => BINS.map((bin) => cue(`${how} ${bin}`)))
const RETURNS = BINS.map((bin) => cue(`returns ${bin}`))
const HAD = few('had', 4)
const BACK_SINCE = few('back since', 3)
const BACK_AHEAD = few('back ahead', 3)
const KIN = cue('kin')
const ODD = cue('odd one')
const KIN_LATER = cue('kin later')
const SAME_FORM = cue('same form')
const OTHER_FORM = cue('other form')
const RUN_ON = few('run on', 3)
const RUN_BROKEN = few('run broken', 3)
const AGAIN = few('again', 3)
const AGAIN_NEW = few('again new', 3)
const NOTHING_SINCE = cue('nothing since')
const NOTHING_AHEAD = cue('nothing ahead')
const SINCE = few('since', 4)

const numberIn = new Map<string, number | null>()
/** The number that a label ends in. */
function numberOf(label: string): number | null {
  let known = numberIn.get(label)
  if (known === undefined) {
    const hit = /(\d+)$/.exec(label)
    known = hit ? Number(hit[1]) : null
    if (numberIn.size > 5000) numberIn.clear()
    numberIn.set(label, known)
  }
  return known
}

/** How long a row of numbers goes on that way, each one more than the last. */
export function runAfter(path: Path, to: readonly string[]): number {
  const n = numberOf(to[0]!)
  const m = numberOf(path.labels[path.labels.length - 1]!)
  if (n === null || m === null || path.taken === 0) return 0
  return n - m === 1 ? path.run + 1 : n === m ? path.run : 0
}

/** What taking a call would mean on this path, as numbers of `STEP_CUES`; `out` takes them up. */
export function cuesOfStep(path: Path, weighed: Weighed, to: readonly string[], out: number[] = []): number[] {
  out.length = 0
  out.push(STEP)
  const label = to[0]!
  const begun = path.taken > 0
  const same = label === path.labels[0]
  const known = path.seen.includes(label)
  const n = numberOf(label)
  const m = numberOf(path.labels[path.labels.length - 1]!)
  out.push(same ? SAME : known ? BACK : begun ? NEW : OPENS)
  out.push(AFTER[path.call ? OF_KIND.get(path.call.call.kind)! : ANY]!)
  out.push(SORT_AFTER[n === null ? 0 : label.startsWith('nuc') ? 1 : 2]![begun ? (m === null ? 1 : 2) : 0]!)
  if (n !== null && m !== null && begun) {
    const gap = n - m
    const name =
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
                  : 'far'
    out.push(GAPS[name])
    if (gap === 1 && !known) out.push(NEXT_NEW)
    if (gap !== 0) out.push((gap === 1 ? RUN_ON : RUN_BROKEN)[Math.min(3, path.run)]!)
  }
  if (!begun && n === 1) out.push(OPENS_ONE)
  const last = path.call ? path.call.word : 0
  const gap = weighed.word - last
  if (begun) {
    const bin = gap < 6 ? 0 : gap < 20 ? 1 : gap < 60 ? 2 : gap < 150 ? 3 : 4
    out.push(AFTER_A_WHILE[bin]!)
    out.push(WENT[same ? 0 : known ? 1 : 2]![bin]!)
    if (!same && path.other[0] === label) out.push(RETURNS[bin]!)
    out.push(HAD[Math.min(4, path.seen.length - 1)]!)
    if (known && !same) out.push(BACK_AHEAD[Math.min(3, weighed.ahead.length)]!)
  }
  const first = path.seen[0]
  if (first !== undefined && first !== '') {
    const sort = sortOf(label)
    out.push(sortOf(first) === sort ? KIN : ODD)
    if (sortOf(first) !== sort && path.seen.some((other) => sortOf(other) === sort)) out.push(KIN_LATER)
  }
  if (path.call) out.push(path.call.call.form === weighed.call.form ? SAME_FORM : OTHER_FORM)
  let since = 0
  for (const at of weighed.last) if (at >= last) since++
  let again = 0
  for (const topic of weighed.ahead) if (weighed.last[topic]! >= last) again++
  out.push(SINCE[Math.min(4, since)]!)
  if (begun) {
    out.push(AGAIN[Math.min(3, again)]!)
    if (!known) out.push(AGAIN_NEW[Math.min(3, again)]!)
    if (since === 0) out.push(NOTHING_SINCE)
    if (known && !same) out.push(BACK_SINCE[Math.min(3, since)]!)
  }
  if (weighed.ahead.length === 0) out.push(NOTHING_AHEAD)
  return out
}

/** In which way the last call of a path was taken, and the cues of the step to it. */
export const stepTaken = ({ call, before, labels }: Path): { how: number; cues: readonly number[] } => ({
  how: howTaken(call!.call),
  cues: cuesOfStep(before!, call!, labels),
})

/** The cues of the step that is being weighed: hundreds of thousands are in a note of an hour. */
const cuesHere: number[] = []

/** What a path gains by taking a call. */
export function worthOfStep(path: Path, weighed: Weighed, to: readonly string[], scorer: Scorer): number {
  cuesOfStep(path, weighed, to, cuesHere)
  return scorer.worth(weighed, howTaken(weighed.call), cuesHere)
}

/** A scorer by learned weights of cues, each alone, and by a net of what they are worth together. */
export function scorerOf(weights: Weights, all?: Together): Scorer {
  const size = STEP_CUES.length
  const table = new Float64Array(HOW.length * size)
  STEP_CUES.forEach((name, i) => {
    const worth = weights.get(name)
    if (worth) for (let taken = 0; taken < HOW.length; taken++) table[taken * size + i] = worthIn(worth, taken)
  })
  const known = new WeakMap<Weighed, { readonly alone: number; readonly sum: Float32Array | undefined }>()
  return {
    worth(weighed, taken, steps) {
      let call = known.get(weighed)
      if (!call) {
        let alone = 0
        for (const name of weighed.cues) {
          const worth = weights.get(name)
          if (worth) alone += worthIn(worth, taken)
        }
        call = { alone, sum: all?.sum(weighed.cues) }
        known.set(weighed, call)
      }
      let worth = call.alone
      for (let i = 0; i < steps.length; i++) worth += table[taken * size + steps[i]!]!
      return all ? worth + all.worth(call.sum!, taken, steps) : worth
    },
  }
}

/** What a cue is worth when a call is taken in some way. */
export const worthIn = (worth: readonly number[] | Float64Array, taken: number): number => worth[ANY]! + worth[taken]!

/** Weights as they are kept: for each cue one letter a way of taking a call, and how many steps. */
const LETTERS = '*lmobnstp'

/**
 * How finely weights are kept. `coarse` is what the page has at once: until the rest is there. `fine` comes with what else was learned
 * (`fitted/`): the many that are small add up.
 */
export const GRAIN = { coarse: { step: 0.1, least: 1.5 }, fine: { step: 0.02, least: 0.015 } } as const
export type Grain = keyof typeof GRAIN

/** Weights out of `weights.json` (coarse) or `fine-weights.json`. */
export function unpackWeights(packed: Readonly<Record<string, string>>, grain: Grain = 'coarse'): Weights {
  const { step } = GRAIN[grain]
  const out = new Map<string, number[]>()
  for (const [name, worth] of Object.entries(packed)) {
    const row = new Array<number>(HOW.length).fill(0)
    for (const [, letter, steps] of worth.matchAll(/([^\d-])(-?\d+)/g))
      row[LETTERS.indexOf(letter!)] = Number(steps) * step
    out.set(name, row)
  }
  return out
}

/** Weights as a file keeps them; what is too light to matter is left out. */
export function packWeights(weights: Weights, grain: Grain): Record<string, string> {
  const { step, least } = GRAIN[grain]
  const out: Record<string, string> = {}
  for (const name of [...weights.keys()].sort()) {
    const row = weights.get(name)!
    let said = ''
    for (let i = 0; i < HOW.length; i++)
      if (Math.abs(row[i]!) >= least) said += `${LETTERS[i]}${Math.round(row[i]! / step)}`
    if (said) out[name] = said
  }
  return out
}
