import type { Grammar } from '../grammar/grammar.ts'
import type { Utterance } from '../language/word.ts'
import { mayNumber, type Names } from '../reading/lookup.ts'
import { type MaybeCall, maybeCalls } from './calls.ts'

/** Names that words may call hives by, as they are known at one time. */
export interface NamesNow {
  readonly hives: ReadonlyMap<string, string>
  readonly known: ReadonlySet<string>
  /** Words that the note calls hives by (`described.ts`). */
  readonly described: ReadonlySet<string>
}

/** An utterance of a note, with what may call a hive in it. */
export interface Heard {
  readonly utterance: Utterance
  /** Words of the note before it. */
  readonly word: number
  /** Number of the utterance. */
  readonly turn: number
  calls: readonly Placed[]
  /** The names that they were found with. */
  names: NamesNow | null
}

/** A call that may be one, where it stands. */
export interface Placed {
  readonly call: MaybeCall
  /** Number of its utterance, and words of the note before it. */
  readonly turn: number
  readonly word: number
}

/** What two lists of names do not have in common: the first words of names, and numbers. */
interface Other {
  readonly words: ReadonlySet<string>
  readonly numbers: boolean
}

/** Finds what may call a hive, again only where names bear on the words that are not the same as before. */
export function createFinder(grammar: Grammar): (heard: Heard, names: NamesNow) => readonly Placed[] {
  let last: NamesNow | null = null
  let others = new Map<NamesNow, Other>()
  return (heard, names) => {
    if (heard.names === names) return heard.calls
    if (last !== names) others = new Map()
    last = names
    const { utterance, turn, word } = heard
    if (heard.names) {
      let other = others.get(heard.names)
      if (!other) {
        other = otherThan(heard.names, names)
        others.set(heard.names, other)
      }
      heard.names = names
      if (!bearsOn(other, utterance)) return heard.calls
    }
    heard.names = names
    const all: Names = { hives: names.hives, known: names.known, yards: new Map() }
    heard.calls = maybeCalls(utterance, grammar, all, names.described).map((call) => ({
      call,
      turn,
      word: word + call.from,
    }))
    return heard.calls
  }
}

function otherThan(a: NamesNow, b: NamesNow): Other {
  const words = new Set<string>()
  const compare = (one: NamesNow['hives'], two: NamesNow['hives']): void => {
    for (const [name, label] of one) if (two.get(name) !== label) words.add(name.split(' ')[0]!)
  }
  compare(a.hives, b.hives)
  compare(b.hives, a.hives)
  for (const [one, two] of [
    [a.described, b.described],
    [b.described, a.described],
  ] as const)
    for (const label of one) if (!two.has(label)) words.add(label.split(' ')[0]!.replace(/'s$/, ''))
  const isNumber = (label: string): boolean => /\d$|^nuc$/.test(label)
  const numbers =
    [...a.known].some((label) => isNumber(label) && !b.known.has(label)) ||
    [...b.known].some((label) => isNumber(label) && !a.known.has(label))
  return { words, numbers }
}

const bearsOn = ({ words, numbers }: Other, utterance: Utterance): boolean =>
  (words.size > 0 && utterance.words.some(({ norm }) => words.has(norm))) || (numbers && mayNumber(utterance))
