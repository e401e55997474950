import type { Word } from '../language/word.ts'
import type { Entry } from './grammar.ts'
import { occur } from './present.ts'

/** Entries that begin in one way, in the grammar's order. */
export interface Gate {
  readonly entries: readonly Entry[]
  /** The word lists that each cannot do without, one behind the other; the first tells the most. */
  readonly needs: readonly (readonly number[])[]
}

const gates = new WeakMap<readonly Entry[], Gate>()

/** The gate of some entries, made when it is first asked for. */
export function gateOf(entries: readonly Entry[]): Gate {
  let gate = gates.get(entries)
  if (!gate) {
    const inOrder = [...entries].sort((a, b) => a.order - b.order)
    gate = { entries: inOrder, needs: inOrder.map(({ pattern }) => pattern.must) }
    gates.set(entries, gate)
  }
  return gate
}

/** The part of a gate that the words of an utterance let pass; null where that is nothing. */
export function passing({ entries, needs }: Gate, words: readonly Word[]): Gate | null {
  const some: number[] = []
  for (let k = 0; k < needs.length; k++) if (occur(needs[k]!, words)) some.push(k)
  return some.length === 0 ? null : { entries: some.map((k) => entries[k]!), needs: some.map((k) => needs[k]!) }
}
