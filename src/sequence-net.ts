/*
 * The steps of nets that run over words one behind the other: a recurrent memory (a gated recurrent unit, Cho et al. 2014), and
 * convolutions over three words each. All lists are wide numbers: half of the time would go into widening them at every step.
 */

/** The named lists in wide numbers. */
export const wide = <K extends string>(names: readonly K[], from: Readonly<Record<K, Float32Array>>) =>
  Object.fromEntries(names.map((name) => [name, new Float64Array(from[name])] as const)) as Record<K, Float64Array>

/** What renews a memory of numbers: numbers remembered by the gates of each (forget what was, renew, what is new). */
export interface MemoryNumbers {
  readonly heardBase: Float64Array
  readonly again: Float64Array
  readonly againBase: Float64Array
}

/** One step of a memory of `M` numbers: what is remembered behind a word of what was before it. The word adds to the gates what `words` hold, one list or two. */
export function createMemory(M: number, { heardBase, again, againBase }: MemoryNumbers) {
  const gates = new Float64Array(3 * M)
  const heard = new Float64Array(3 * M)
  return (before: Float64Array, ...words: readonly Float64Array[]): Float64Array => {
    heard.set(heardBase)
    for (const word of words) for (let i = 0; i < 3 * M; i++) heard[i]! += word[i]!
    gates.set(againBase)
    addRows(gates, 0, before, 0, M, again, 0, 3 * M)
    const next = new Float64Array(M)
    for (let i = 0; i < M; i++) {
      const reset = 1 / (1 + Math.exp(-(heard[i]! + gates[i]!)))
      const keep = 1 / (1 + Math.exp(-(heard[M + i]! + gates[M + i]!)))
      const fresh = Math.tanh(heard[2 * M + i]! + reset * gates[2 * M + i]!)
      next[i] = (1 - keep) * fresh + keep * before[i]!
    }
    return next
  }
}

/** What a word adds is worked out once for so many words: it takes 3 to 6 kB each, and a firm's notes hold thousands. */
const REMEMBERED = 1500

/** Gives for a row what was made for it, as long as it is remembered. */
export function remembering<T>(make: (row: number) => T): (row: number) => T {
  const known = new Map<number, T>()
  return (row) => {
    let made = known.get(row)
    if (made === undefined) {
      made = make(row)
      if (known.size >= REMEMBERED) known.clear()
      known.set(row, made)
    }
    return made
  }
}

/** So many times the same, one behind the other. */
export function startOf(base: Float64Array, times: number): Float64Array {
  const out = new Float64Array(base.length * times)
  for (let i = 0; i < times; i++) out.set(base, i * base.length)
  return out
}

/** Takes what is below none for none. */
export function positive(list: Float64Array): void {
  for (let i = 0; i < list.length; i++) if (list[i]! < 0) list[i] = 0
}

/** Rows that count, of those that are added. */
const rows = new Int32Array(1024)

/**
 * Adds to `out` from `at` on the rows of a table, each as often as a number of `by` says. Four rows at a time: most of the time would
 * go into fetching and putting down what was added so far.
 */
export function addRows(
  out: Float64Array,
  at: number,
  by: Float64Array,
  from: number,
  count: number,
  table: Float64Array,
  start: number,
  width: number,
): void {
  let many = 0
  for (let j = 0; j < count; j++) if (by[from + j] !== 0) rows[many++] = j
  let n = 0
  for (; n + 4 <= many; n += 4) {
    const a = by[from + rows[n]!]!
    const b = by[from + rows[n + 1]!]!
    const c = by[from + rows[n + 2]!]!
    const d = by[from + rows[n + 3]!]!
    const p = start + rows[n]! * width
    const q = start + rows[n + 1]! * width
    const r = start + rows[n + 2]! * width
    const s = start + rows[n + 3]! * width
    for (let i = 0; i < width; i++)
      out[at + i]! += a * table[p + i]! + b * table[q + i]! + c * table[r + i]! + d * table[s + i]!
  }
  for (; n < many; n++) {
    const j = rows[n]!
    const x = by[from + j]!
    for (let i = 0; i < width; i++) out[at + i]! += x * table[start + j * width + i]!
  }
}

/** What is found at `n` words, `C` numbers each, and what a layer adds that looks at the words so far `apart` on either side as well. */
export function farther(
  found: Float64Array,
  n: number,
  C: number,
  layer: Float64Array,
  base: Float64Array,
  apart: number,
): Float64Array {
  const more = startOf(base, n)
  for (let i = 0; i < n; i++)
    for (let third = 0; third < 3; third++) {
      const from = i + (third - 1) * apart
      if (from >= 0 && from < n) addRows(more, i * C, found, from * C, C, layer, third * C * C, C)
    }
  positive(more)
  for (let i = 0; i < more.length; i++) more[i]! += found[i]!
  return more
}
