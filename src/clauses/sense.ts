import type { Word } from '../language/word.ts'
import { type Clause, clausesOf } from './clause.ts'
import { type ClauseCue, cuesOf } from './cues.ts'
import { addsOf, type ClauseModel, oddsOf } from './model.ts'

/** A clause, and what the model makes of it. */
export interface ClauseSense {
  readonly clause: Clause
  /** Log odds of every fact of the model. */
  readonly odds: Float64Array
  readonly cues: readonly ClauseCue[]
}

const known = new WeakMap<readonly Word[], { model: ClauseModel; before: string; senses: readonly ClauseSense[] }>()

/** The clauses of an utterance as the model weighs them; `before`: the last words before it. Remembers them, since notes are folded anew. */
export function sensesOf(
  words: readonly Word[],
  before: readonly string[],
  model: ClauseModel,
): readonly ClauseSense[] {
  const key = before.join(' ')
  const then = known.get(words)
  if (then?.model === model && then.before === key) return then.senses
  let last = before
  const senses = clausesOf(words).map((clause) => {
    const cues = cuesOf(clause, last)
    last = clause.tokens
    return { clause, odds: oddsOf(model, cues), cues }
  })
  known.set(words, { model, before: key, senses })
  return senses
}

/**
 * The words on which a fact rests: from the first to the last that add much to its odds, as word indices of the utterance, `to`
 * exclusive.
 */
export function restsOn({ clause, cues }: ClauseSense, fact: number, model: ClauseModel): { from: number; to: number } {
  const adds = addsOf(model, cues, fact, clause.tokens.length)
  const most = Math.max(...adds)
  const [first, last] =
    most > 0 ? [adds.findIndex((x) => x >= most / 3), adds.findLastIndex((x) => x >= most / 3)] : [0, adds.length - 1]
  return { from: clause.spans[first]![0], to: clause.spans[last]![1] }
}

/** The log odds that a clause gives a value of a field; undefined for what the model does not know. */
export function oddsFor({ odds }: ClauseSense, field: string, value: unknown, model: ClauseModel): number | undefined {
  const fact = model.numbers.get(`${field}=${typeof value === 'string' ? value.toLowerCase() : '#'}`)
  return fact === undefined ? undefined : odds[fact]
}
