import { Break, type Word } from '../language/word.ts'
import type { Part, Pattern } from './pattern.ts'
import { occur } from './present.ts'

/** A thing of some class that begins at a word. */
export interface Found<V = unknown> {
  readonly end: number
  readonly value: V
  /** Repair distance inside, 0 for none. */
  readonly cost: number
}

/** What a class finds at a word: longest first. */
export type ClassLookup = (name: string, at: number) => readonly Found[]

export interface PatternMatch {
  readonly end: number
  readonly captures: Readonly<Record<string, Found & { start: number }>>
  /** Words that the pattern itself took (skipped ones not counted). */
  readonly taken: number
}

/**
 * A part of a pattern with what comes behind it, whether inside its group or behind it; the end of the pattern is one too.
 * All links have the same properties, whatever their kind: so they are read faster.
 */
interface Link {
  readonly kind: Part['kind'] | 'end'
  readonly words: ReadonlySet<string>
  /** Of a class: its name, and under which it is captured. */
  readonly name: string
  readonly as: string
  /** Of a skip. */
  readonly most: number
  readonly optional: boolean
  readonly next: Link | null
  /** Of a group: its alternatives, each leading on to `next`. */
  readonly ways: Ways | null
}

/** The alternatives of a group; for each word those that can begin with it, and those for a word that none of them names. */
interface Ways {
  readonly all: readonly Link[]
  readonly byWord: ReadonlyMap<string, readonly Link[]>
  readonly open: readonly Link[]
}

const NO_WORDS: ReadonlySet<string> = new Set()

const END: Link = { kind: 'end', words: NO_WORDS, name: '', as: '', most: 0, optional: false, next: null, ways: null }

function chain(parts: readonly Part[], end: Link): Link {
  let next = end
  for (let p = parts.length - 1; p >= 0; p--) next = linkOf(parts[p]!, next)
  return next
}

function linkOf(part: Part, next: Link): Link {
  return {
    kind: part.kind,
    words: 'words' in part ? part.words : NO_WORDS,
    name: part.kind === 'class' ? part.name : '',
    as: part.kind === 'class' ? part.as : '',
    most: part.kind === 'skip' ? part.most : 0,
    optional: 'optional' in part && part.optional,
    next,
    ways: part.kind === 'group' ? waysOf(part, next) : null,
  }
}

function waysOf(group: Extract<Part, { kind: 'group' }>, next: Link): Ways {
  const { byWord, open } = group.first()
  const links = new Map(group.alternatives.map((alternative) => [alternative, chain(alternative, next)]))
  const linked = (some: readonly (readonly Part[])[]): Link[] => some.map((alternative) => links.get(alternative)!)
  return {
    all: linked(group.alternatives),
    byWord: new Map([...byWord].map(([word, some]) => [word, linked(some)])),
    open: linked(open),
  }
}

/** Patterns as chains, made when they are first matched: most never come near a note. */
const chains = new WeakMap<Pattern, Link>()

function chainOf(pattern: Pattern): Link {
  let known = chains.get(pattern)
  if (!known) {
    known = chain(pattern.parts, END)
    chains.set(pattern, known)
  }
  return known
}

/** Whether the words that a pattern cannot do without occur in the utterance, at a place or behind it. */
export const mayMatch = (pattern: Pattern, words: readonly Word[], from = 0): boolean =>
  occur(pattern.must, words, from)

/** Whether a pattern can begin at a word: most cannot, and are refused before anything is set up. */
function mayBegin(
  { firstWords, firstClasses }: Pattern,
  words: readonly Word[],
  from: number,
  classes: ClassLookup,
): boolean {
  if (firstClasses === null || firstWords.has(words[from]!.norm)) return true
  for (const name of firstClasses) if (classes(name, from).length > 0) return true
  return false
}

/** Matches a pattern at word `from`; the greediest way that succeeds. */
export function matchPattern(
  pattern: Pattern,
  words: readonly Word[],
  from: number,
  classes: ClassLookup,
  tight = false,
): PatternMatch | undefined {
  return mayBegin(pattern, words, from, classes) ? matchBegun(pattern, words, from, classes, tight) : undefined
}

/** The same where it is known already that the pattern can begin at the word. */
export function matchBegun(
  pattern: Pattern,
  words: readonly Word[],
  from: number,
  classes: ClassLookup,
  tight = false,
): PatternMatch | undefined {
  const [first, second] = pattern.parts
  if (second?.kind === 'word' && !second.optional && first!.kind === 'word' && !first!.optional) {
    // most lines fail at their second word: refuse before anything is set up
    const next = words[from + 1]
    if (next === undefined || (!next.filler && !second.words.has(next.norm))) return undefined
  }
  return new Matching(words, from, classes, tight ? Break.inferred : Break.hard).match(chainOf(pattern))
}

/** One try of a pattern at one word. */
class Matching {
  private readonly words: readonly Word[]
  private readonly from: number
  private readonly classes: ClassLookup
  /** A word that is cut off so strongly from the one before is out of reach. */
  private readonly most: Break
  /** What classes found on the way that is being tried. */
  private captures: { as: string; start: number; found: Found }[] | null = null
  private taken = 0
  private end = 0

  constructor(words: readonly Word[], from: number, classes: ClassLookup, most: Break) {
    this.words = words
    this.from = from
    this.classes = classes
    this.most = most
  }

  match(start: Link): PatternMatch | undefined {
    if (!this.run(start, this.from, true)) return undefined
    const captures: Record<string, Found & { start: number }> = {}
    for (const { as, start: at, found } of this.captures ?? []) captures[as] = { ...found, start: at }
    return { end: this.end, captures, taken: this.taken }
  }

  /** Whether the rest of the pattern fits from a word on; `first`: nothing was taken yet. */
  private run(link: Link, at: number, first: boolean): boolean {
    const { kind } = link
    if (kind === 'end') {
      this.end = at
      return at > this.from
    }
    const { words } = this
    const next = link.next!
    if (kind === 'skip') return this.skip(link.most, next, at, first)
    if (kind === 'ahead') {
      const word = words[this.stepOver(at)]
      return word !== undefined && link.words.has(word.norm) && this.run(next, at, first)
    }
    const i = first ? at : this.stepOver(at)
    const word = words[i]
    const reachable = word !== undefined && (first || word.brk < this.most)
    if (kind === 'word') {
      if (reachable && link.words.has(word.norm) && this.take(next, i)) return true
      // a fill word that the pattern itself asks for
      if (at !== i && link.words.has(words[at]!.norm) && this.take(next, at)) return true
    } else if (kind === 'group') {
      const { all, byWord, open } = link.ways!
      const filler = at !== i && words[at] !== undefined && byWord.has(words[at]!.norm)
      const fit = filler ? all : reachable ? (byWord.get(word.norm) ?? open) : open
      for (const way of fit) if (this.run(way, at, first)) return true
    } else if (reachable) {
      for (const found of this.classes(link.name, i)) if (this.capture(link.as, i, found, next)) return true
    }
    return link.optional && this.run(next, at, first)
  }

  private skip(most: number, next: Link, at: number, first: boolean): boolean {
    const { words } = this
    let j = at
    for (let n = 0; n <= most; n++) {
      if (this.run(next, j, first)) return true
      if (j >= words.length || words[j]!.brk >= Break.soft) return false
      j++
    }
    return false
  }

  private take(next: Link, i: number): boolean {
    this.taken++
    if (this.run(next, i + 1, false)) return true
    this.taken--
    return false
  }

  private capture(as: string, start: number, found: Found, next: Link): boolean {
    this.captures ??= []
    this.captures.push({ as, start, found })
    this.taken += found.end - start
    if (this.run(next, found.end, false)) return true
    this.taken -= found.end - start
    this.captures.pop()
    return false
  }

  private stepOver(i: number): number {
    const { words, most } = this
    let j = i
    while (j < words.length && words[j]!.filler && words[j]!.brk < most) j++
    return j
  }
}
