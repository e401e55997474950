import type { Clause } from './clause.ts'

/** One thing about a clause that may tell what it says, as a number, and the tokens it rests on; -1 and one past the last are its ends. */
export interface ClauseCue {
  readonly id: number
  readonly tokens: readonly number[]
}

/** How many numbers the cues are spread over: a cue has no name, and two that fall on one number are not told apart. */
export const SPREAD = 1 << 22
/** So many words of the clause before may have a say. */
export const BEFORE = 6

/** A cue by its kind and words, as a number (FNV-1a, mixed once more). */
function idOf(kind: string, a: string, b = ''): number {
  let x = 0x811c9dc5
  const text = `${kind}${a} ${b}`
  for (let i = 0; i < text.length; i++) x = Math.imul(x ^ text.charCodeAt(i), 0x01000193)
  x = Math.imul(x ^ (x >>> 15), 0x2c1b3c6d)
  return (x ^ (x >>> 13)) & (SPREAD - 1)
}

/** The cues of a clause: words, neighbours, words with one between them, its length, and the last words of the clause `before`. */
export function cuesOf({ tokens }: Pick<Clause, 'tokens'>, before: readonly string[]): ClauseCue[] {
  const out = new Map<number, readonly number[]>()
  const add = (id: number, on: readonly number[]): void => {
    if (!out.has(id)) out.set(id, on)
  }
  const at = (i: number): string => (i < 0 ? '<s>' : (tokens[i] ?? '</s>'))
  for (let i = -1; i <= tokens.length; i++) {
    if (i >= 0 && i < tokens.length) add(idOf('1', at(i)), [i])
    if (i < tokens.length) add(idOf('2', at(i), at(i + 1)), [i, i + 1])
    if (i + 1 < tokens.length) add(idOf('s', at(i), at(i + 2)), [i, i + 2])
  }
  add(idOf('l', String(Math.min(6, tokens.length))), [])
  for (const token of before.slice(-BEFORE)) add(idOf('p', token), [])
  return Array.from(out, ([id, on]) => ({ id, tokens: on }))
}
