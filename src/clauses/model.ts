import { type ClauseCue, SPREAD } from './cues.ts'

/**
 * What a clause may say, weighed by its words: for each fact (`field=value`, or `field=#` for an amount said in it) a
 * logistic regression on its cues. Learned by `npm run clauses` from the labelled notes, from clauses written for
 * this, and from what the lines of the grammar can say. It does not know where the talk is; the record does.
 */
export interface ClauseModel {
  readonly facts: readonly { readonly field: string; readonly value: string }[]
  /** The place of each fact among them, by `field=value`. */
  readonly numbers: ReadonlyMap<string, number>
  /** By fact, before any cue. */
  readonly base: Float64Array
  /** The low bits of each cue, in the order of the cues; those of one bucket stand from `buckets[high bits]` up to the next. */
  readonly low: Uint8Array
  readonly buckets: Uint32Array
  /** What the cue of a row bears on stands in `on` and `sizes` from `starts[row]` up to the start of the next. */
  readonly starts: Uint32Array
  /** Facts, and by how much, in steps. */
  readonly on: Uint16Array
  readonly sizes: Int8Array
}

/** A model as it is learned: for each cue the facts it bears on and by how much. */
export interface LearnedClauses extends Pick<ClauseModel, 'facts' | 'base'> {
  readonly weights: ReadonlyMap<number, readonly (readonly [fact: number, weight: number])[]>
}

/** As `clauses.json` keeps it. */
export interface PackedClauses {
  readonly facts: string
  /** Base of each fact in tenths, with spaces between. */
  readonly base: string
  /** How far each cue's number lies from the one before, two or more letters each. */
  readonly gaps: string
  /** For each cue: facts (as gaps) and weights, letters in turns, ended by a space. */
  readonly sizes: string
}

/** What one step of a packed weight is worth. */
export const STEP = 0.5
const FIRST = 35
/** Letters that a gap or a fact's number is written with. */
const LETTERS = 90
const CLOSE = 32
/** Bits of a cue that do not count for its bucket: there is hardly more than one cue a bucket. */
const LOW = 7
const MIDDLE = 60

/** A number in letters, least first; all but the last are from the upper half. */
function lettersOf(n: number): string {
  const half = LETTERS / 2
  let out = ''
  let rest = n
  while (rest >= half) {
    out += letter(half + (rest % half))
    rest = Math.floor(rest / half)
  }
  return out + letter(rest)
}
/** Printable letters without the backslash and the quote. */
const letter = (n: number): string => String.fromCharCode(FIRST + n + (FIRST + n >= 92 ? 1 : 0))
const numberOf = (code: number): number => code - FIRST - (code > 92 ? 1 : 0)

/** Unpacks a model. */
export function unpackClauses({ facts, base, gaps, sizes }: PackedClauses): ClauseModel {
  const half = LETTERS / 2
  let at = 0
  const next = (text: string): number => {
    let n = 0
    for (let size = 1; ; size *= half) {
      const digit = numberOf(text.charCodeAt(at++))
      n += (digit >= half ? digit - half : digit) * size
      if (digit < half) return n
    }
  }
  const ids: number[] = []
  for (let id = -1; at < gaps.length; ids.push(id)) id += next(gaps)
  const starts = new Uint32Array(ids.length + 1)
  const on = new Uint16Array(sizes.length)
  const by = new Int8Array(sizes.length)
  let count = 0
  at = 0
  for (let row = 0; row < ids.length; row++) {
    for (let fact = -1; sizes.charCodeAt(at) !== CLOSE; count++) {
      fact += next(sizes)
      on[count] = fact
      by[count] = sizes.charCodeAt(at++) - MIDDLE
    }
    at++
    starts[row + 1] = count
  }
  const buckets = new Uint32Array((SPREAD >> LOW) + 1)
  for (const id of ids) buckets[(id >> LOW) + 1]!++
  for (let i = 1; i < buckets.length; i++) buckets[i]! += buckets[i - 1]!
  const names = facts.split(' ')
  return {
    facts: names.map((fact) => {
      const [field = '', value = ''] = fact.split('=')
      return { field, value }
    }),
    numbers: new Map(names.map((fact, i) => [fact, i])),
    base: Float64Array.from(base.split(' '), (x) => Number(x) / 10),
    low: Uint8Array.from(ids, (id) => id & ((1 << LOW) - 1)),
    buckets,
    starts,
    on: on.slice(0, count),
    sizes: by.slice(0, count),
  }
}

/** Packs a model; weights that round to nothing take no place. */
export function packClauses({ facts, base, weights }: LearnedClauses): PackedClauses {
  let gaps = ''
  let sizes = ''
  let last = -1
  for (const id of [...weights.keys()].sort((a, b) => a - b)) {
    const row = weights
      .get(id)!
      .map(([fact, weight]) => [fact, Math.max(-20, Math.min(20, Math.round(weight / STEP)))] as const)
      .filter(([, size]) => size !== 0)
    if (row.length === 0) continue
    gaps += lettersOf(id - last)
    last = id
    let fact = -1
    for (const [at, size] of row.sort((a, b) => a[0] - b[0])) {
      sizes += lettersOf(at - fact) + String.fromCharCode(MIDDLE + size)
      fact = at
    }
    sizes += ' '
  }
  return {
    facts: facts.map(({ field, value }) => `${field}=${value}`).join(' '),
    base: [...base].map((x) => Math.round(x * 10)).join(' '),
    gaps,
    sizes,
  }
}

/** The row of a cue; -1 where it bears on nothing. */
function rowOf({ low, buckets }: ClauseModel, cue: number): number {
  const bucket = cue >> LOW
  const rest = cue & ((1 << LOW) - 1)
  for (let row = buckets[bucket]!; row < buckets[bucket + 1]!; row++) if (low[row] === rest) return row
  return -1
}

/** The log odds of every fact of the model, for a clause with these cues. */
export function oddsOf(model: ClauseModel, cues: readonly ClauseCue[]): Float64Array {
  const { base, starts, on, sizes } = model
  const out = base.slice()
  for (const { id } of cues) {
    const row = rowOf(model, id)
    if (row >= 0) for (let i = starts[row]!; i < starts[row + 1]!; i++) out[on[i]!]! += sizes[i]! * STEP
  }
  return out
}

/** What each token of a clause adds to the odds of one fact. */
export function addsOf(model: ClauseModel, cues: readonly ClauseCue[], fact: number, tokens: number): Float64Array {
  const { starts, on, sizes } = model
  const out = new Float64Array(tokens)
  for (const { id, tokens: all } of cues) {
    const row = rowOf(model, id)
    if (row < 0) continue
    const at = on.subarray(starts[row], starts[row + 1]).indexOf(fact)
    if (at < 0) continue
    const under = all.filter((i) => i >= 0 && i < tokens)
    for (const i of under) out[i]! += (sizes[starts[row]! + at]! * STEP) / under.length
  }
  return out
}
