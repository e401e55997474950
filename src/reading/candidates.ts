import { type Gate, gateOf, passing } from '../grammar/gate.ts'
import type { Entry, Grammar } from '../grammar/grammar.ts'
import { matchBegun, matchPattern, mayMatch, type PatternMatch } from '../grammar/match.ts'
import { occur } from '../grammar/present.ts'
import { touched } from '../grammar/touch.ts'
import type { Word } from '../language/word.ts'
import { isOfTerms, type Lookup } from './lookup.ts'

/** A phrase of the grammar, or a deed, that some words may be. */
export interface Candidate {
  readonly from: number
  readonly end: number
  readonly entry: Entry
  readonly match: PatternMatch
}

/** Every phrase of the grammar at every word: those that begin with the word, then those that begin with a class. */
export function candidatesOf(words: readonly Word[], grammar: Grammar, lookup: Lookup): Candidate[][] {
  return new Search(words, grammar, lookup).all()
}

class Search {
  private readonly words: readonly Word[]
  private readonly grammar: Grammar
  private readonly lookup: Lookup
  /** The last word at which something of a class begins; -1 where nothing does. */
  private readonly lastOf = new Map<string, number>()
  private readonly nearby = new Map<Entry, boolean>()

  constructor(words: readonly Word[], grammar: Grammar, lookup: Lookup) {
    this.words = words
    this.grammar = grammar
    this.lookup = lookup
  }

  all(): Candidate[][] {
    const { words, lookup } = this
    const { byWord, byClass } = this.grammar.phrases
    const classes: { name: string; isOfTerms: boolean; gate: Gate }[] = []
    for (const [name, entries] of byClass) {
      const gate = passing(gateOf(entries), words)
      if (gate.length > 0) classes.push({ name, isOfTerms: isOfTerms(name), gate })
    }
    return words.map(({ norm }, at) => {
      const here: Candidate[] = []
      const entries = byWord.get(norm)
      if (entries) this.tryAll(gateOf(entries), at, here)
      const terms = lookup.terms(at)
      for (const { name, isOfTerms, gate } of classes)
        if (isOfTerms ? terms.has(name) : lookup(name, at).length > 0) this.tryAll(gate, at, here)
      return here
    })
  }

  private tryAll(gate: Gate, from: number, out: Candidate[]): void {
    const { words, lookup } = this
    for (const { entry, lists, classes } of gate) {
      if (!occur(lists, words, from) || !this.begin(classes, from)) continue
      const match = matchBegun(entry.pattern, words, from, lookup, entry.line.tight)
      if (!match) continue
      if (entry.line.unless && touched(entry, words, from, match.end, lookup)) continue
      if (entry.line.near && !this.isNear(entry)) continue
      out.push({ from, end: match.end, entry, match })
    }
  }

  /** Whether something of each class begins at a word or behind it. */
  private begin(classes: readonly string[], from: number): boolean {
    for (let i = 0; i < classes.length; i++) {
      const name = classes[i]!
      let last = this.lastOf.get(name)
      if (last === undefined) {
        last = this.words.length - 1
        while (last >= 0 && this.lookup(name, last).length === 0) last--
        this.lastOf.set(name, last)
      }
      if (last < from) return false
    }
    return true
  }

  private isNear(entry: Entry): boolean {
    const { words, lookup } = this
    let known = this.nearby.get(entry)
    if (known === undefined) {
      known = entry.near.some(
        (pattern) => mayMatch(pattern, words) && words.some((_, j) => matchPattern(pattern, words, j, lookup)),
      )
      this.nearby.set(entry, known)
    }
    return known
  }
}
