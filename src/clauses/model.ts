import type { ClauseCue } from './cues.ts'

/**
 * What a clause may say, weighed by its words: for each fact (`field=value`, or `field=#` for an amount said in it) a
 * logistic regression on its cues. Learned by `npm run clauses` from the labelled notes, from clauses that people wrote for
 * this, and from what the lines of the grammar can say. It does not know where the talk is; the record does.
 */
export interface ClauseModel {
  readonly facts: readonly { readonly field: string; readonly value: string }[]
  /** The place of each fact among them, by `field=value`. */
  readonly numbers: ReadonlyMap<string, number>
  /** By fact, before any cue. */
  readonly base: Float64Array
  /** For each cue the facts it bears on and by how much, in turns: `[fact, weight, fact, weight, …]`. */
  readonly weights: ReadonlyMap<number, Float32Array>
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
const CLOSE = ' '
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

/** The other way round. */
export function unpackClauses({ facts, base, gaps, sizes }: PackedClauses): ClauseModel {
  const half = LETTERS / 2
  const weights = new Map<number, Float32Array>()
  let id = -1
  let g = 0
  let s = 0
  const next = (text: string, from: number): [number, number] => {
    let n = 0
    let size = 1
    let i = from
    for (;;) {
      const digit = numberOf(text.charCodeAt(i++))
      n += (digit >= half ? digit - half : digit) * size
      if (digit < half) return [n, i]
      size *= half
    }
  }
  const row: number[] = []
  while (g < gaps.length) {
    let gap: number
    ;[gap, g] = next(gaps, g)
    id += gap
    row.length = 0
    let fact = -1
    while (sizes[s] !== CLOSE && s < sizes.length) {
      let step: number
      ;[step, s] = next(sizes, s)
      fact += step
      row.push(fact, (sizes.charCodeAt(s++) - MIDDLE) * STEP)
    }
    s++
    weights.set(id, Float32Array.from(row))
  }
  const names = facts.split(' ')
  return {
    facts: names.map((fact) => {
      const [field = '', value = ''] = fact.split('=')
      return { field, value }
    }),
    numbers: new Map(names.map((fact, i) => [fact, i])),
    base: Float64Array.from(base.split(' '), (x) => Number(x) / 10),
    weights,
  }
}

/** Packs a model; weights that round to nothing take no place. */
export function packClauses({ facts, base, weights }: Pick<ClauseModel, 'facts' | 'base' | 'weights'>): PackedClauses {
  let gaps = ''
  let sizes = ''
  let last = -1
  for (const id of [...weights.keys()].sort((a, b) => a - b)) {
    const row = weights.get(id)!
    const pairs: [number, number][] = []
    for (let i = 0; i < row.length; i += 2) {
      const size = Math.max(-24, Math.min(24, Math.round(row[i + 1]! / STEP)))
      if (size !== 0) pairs.push([row[i]!, size])
    }
    if (pairs.length === 0) continue
    gaps += lettersOf(id - last)
    last = id
    let fact = -1
    for (const [at, size] of pairs.sort((a, b) => a[0] - b[0])) {
      sizes += lettersOf(at - fact) + String.fromCharCode(MIDDLE + size)
      fact = at
    }
    sizes += CLOSE
  }
  return {
    facts: facts.map(({ field, value }) => `${field}=${value}`).join(' '),
    base: [...base].map((x) => Math.round(x * 10)).join(' '),
    gaps,
    sizes,
  }
}

/** The log odds of every fact of the model, for a clause with these cues. */
export function oddsOf(model: ClauseModel, cues: readonly ClauseCue[]): Float64Array {
  const out = Float64Array.from(model.base)
  for (const { id } of cues) {
    const row = model.weights.get(id)
    if (row) for (let i = 0; i < row.length; i += 2) out[row[i]!]! += row[i + 1]!
  }
  return out
}

/** What each token of a clause adds to the odds of one fact. */
export function addsOf(model: ClauseModel, cues: readonly ClauseCue[], fact: number, tokens: number): Float64Array {
  const out = new Float64Array(tokens)
  for (const { id, tokens: on } of cues) {
    const row = model.weights.get(id)
    if (!row) continue
    for (let i = 0; i < row.length; i += 2)
      if (row[i] === fact) for (const at of on) out[at]! += row[i + 1]! / on.length
  }
  return out
}
