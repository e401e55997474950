import type { Word } from '../language/word.ts'
import type { Entry } from './grammar.ts'
import { occur } from './present.ts'

/** An entry with what it cannot do without, at the place where it begins or behind it. */
export interface Guarded {
  readonly entry: Entry
  /** Word lists (`present.ts`), the most telling first. */
  readonly lists: readonly number[]
  readonly classes: readonly string[]
}

/** Entries that begin in one way, in the grammar's order. */
export type Gate = readonly Guarded[]

const gates = new WeakMap<readonly Entry[], Gate>()

/** The gate of some entries, made when it is first asked for. */
export function gateOf(entries: readonly Entry[]): Gate {
  let gate = gates.get(entries)
  if (!gate) {
    gate = [...entries]
      .sort((a, b) => a.order - b.order)
      .map((entry) => ({ entry, lists: entry.pattern.must, classes: entry.pattern.classes }))
    gates.set(entries, gate)
  }
  return gate
}

/** The part of a gate that the words of an utterance let pass. */
export const passing = (gate: Gate, words: readonly Word[]): Gate => gate.filter(({ lists }) => occur(lists, words))
