import type { HearingData } from '../grammar/hearing.ts'
import { TEENS, TENS, UNITS } from './number-words.ts'
import { Break, type Word } from './word.ts'

/** The border of a sentence, as a word among words. */
export const BORDER = '|'
/** A whole number that calls hives and frames; and a greater one. */
export const NUMBER = '#'
export const GREAT_NUMBER = '##'

/** A word as usage counts it. */
export function usageToken(norm: string): string {
  if (/^\d+$/.test(norm)) return Number(norm) <= 12 ? NUMBER : GREAT_NUMBER
  if (UNITS[norm] !== undefined) return NUMBER
  const great = TEENS[norm] ?? TENS[norm]
  return great === undefined ? norm : great <= 12 ? NUMBER : GREAT_NUMBER
}

/** The tokens of some words, with a border wherever a sentence ends; fill words are stepped over. */
export function usageTokens(words: readonly Word[]): string[] {
  const out: string[] = [BORDER]
  for (const word of words) {
    if (word.filler || word.norm === '') continue
    if (word.brk === Break.hard && out[out.length - 1] !== BORDER) out.push(BORDER)
    for (const part of word.norm.split(' ')) out.push(usageToken(part))
  }
  if (out[out.length - 1] !== BORDER) out.push(BORDER)
  return out
}

/** Calls `take` for each word of a list `count word word … count word …`, with its count. */
function eachCounted(list: string, take: (word: string, count: number) => void): void {
  let count = 0
  for (const part of list.split(' ')) {
    // digits and the point stand before all letters
    if (part.charCodeAt(0) < 58 && /^[\d.]+$/.test(part)) count = Number(part)
    else take(part, count)
  }
}

/** More than there are words: two of them make one number that is still a small integer, which maps find fastest. */
const SHIFT = 16384
/** For each kind of word that was seen behind others, so much is given to what was not (Witten–Bell smoothing, weakened). */
const UNSEEN = 0.6
/** How likely a word is that was never counted: an everyday word, any other. */
const EVERYDAY = 1.2e-5
const ANY_OTHER = 0.6e-5

interface After {
  total: number
  kinds: number
}

/** Counts of words behind heads, by the head's number and the word's in one: read from a head's line when first asked for, as most never are. */
interface Level {
  readonly lines: (string | undefined)[]
  readonly after: (After | undefined)[]
  readonly counts: Map<number, number>
}

const newLevel = (): Level => ({ lines: [], after: [], counts: new Map() })

/**
 * How likely a word is after the one or two before it: counts of the talk at hives, interpolated from triples to pairs to
 * single words (Witten–Bell). All logarithms are natural.
 */
export class Usage {
  private readonly ids = new Map<string, number>()
  private readonly names: string[] = []
  private readonly single: number[] = []
  /** What was counted behind a word; and behind a pair of words, by the number of the pair (`pairs2`). */
  private readonly pair = newLevel()
  private readonly triple = newLevel()
  private readonly pairs2 = new Map<number, number>()
  private total = 0

  constructor(
    private readonly data: HearingData,
    private readonly common: ReadonlySet<string>,
  ) {
    for (const line of data.words)
      eachCounted(line, (word, count) => {
        this.ids.set(word, this.ids.size)
        this.names.push(word)
        this.single.push(count)
        this.total += count
      })
    for (const line of data.pairs) {
      const head = this.ids.get(line.slice(0, line.indexOf(': ')))
      if (head !== undefined) this.pair.lines[head] = line
    }
    for (const line of data.triples) {
      const [first = '', second = ''] = line.slice(0, line.indexOf(': ')).split(' ')
      const [a, b] = [this.ids.get(first), this.ids.get(second)]
      if (a === undefined || b === undefined) continue
      this.pairs2.set(a * SHIFT + b, this.triple.lines.length)
      this.triple.lines.push(line)
    }
  }

  /** Reads what a line counts behind its head into `counts`, by the head's number and the word's in one. */
  private read(line: string | undefined, head: number, counts: Map<number, number>): After {
    const after = { total: 0, kinds: 0 }
    if (line === undefined) return after
    eachCounted(line.slice(line.indexOf(': ') + 2), (word, count) => {
      const next = this.ids.get(word)
      if (next === undefined) return
      counts.set(head * SHIFT + next, count)
      after.total += count
      after.kinds++
    })
    return after
  }

  private behind(level: Level, head: number): After {
    let after = level.after[head]
    if (after === undefined) {
      after = this.read(level.lines[head], head, level.counts)
      level.after[head] = after
    }
    return after
  }

  /** Every counted word. */
  get words(): readonly string[] {
    return this.names
  }

  /** A number for a token; below 0 for those that were never counted. */
  id(token: string): number {
    return this.ids.get(token) ?? (this.common.has(token) ? -2 : -1)
  }

  /** How often a token was counted. */
  count(id: number): number {
    return id < 0 ? 0 : this.single[id]!
  }

  /** How often `next` was counted behind `before`. */
  pairs(before: number, next: number): number {
    if (before < 0 || next < 0) return 0
    if (this.pair.after[before] === undefined) this.behind(this.pair, before)
    return this.pair.counts.get(before * SHIFT + next) ?? 0
  }

  /** Calls `take` for each pair that was counted. */
  eachPair(take: (first: string, second: string, count: number) => void): void {
    for (const line of this.data.pairs) {
      const cut = line.indexOf(': ')
      const first = line.slice(0, cut)
      if (!this.ids.has(first)) continue
      eachCounted(line.slice(cut + 2), (second, count) => {
        if (this.ids.has(second)) take(first, second, count)
      })
    }
  }

  private one(id: number): number {
    return id < 0 ? (id === -2 ? EVERYDAY : ANY_OTHER) : (this.single[id]! + 0.2) / (this.total * 1.05)
  }

  private two(before: number, id: number): number {
    const below = this.one(id)
    if (before < 0) return below
    const { total, kinds } = this.behind(this.pair, before)
    if (total === 0) return below
    const seen = this.pairs(before, id)
    const unseen = UNSEEN * kinds
    return (seen + unseen * below) / (total + unseen)
  }

  /** The logarithm of the likelihood of `id` behind `before`, itself behind `further`. */
  likelihood(further: number, before: number, id: number): number {
    const below = this.two(before, id)
    if (further < 0 || before < 0) return Math.log(below)
    const pair = this.pairs2.get(further * SHIFT + before)
    if (pair === undefined) return Math.log(below)
    const after = this.behind(this.triple, pair)
    const seen = id < 0 ? 0 : (this.triple.counts.get(pair * SHIFT + id) ?? 0)
    const unseen = UNSEEN * after.kinds
    return Math.log((seen + unseen * below) / (after.total + unseen))
  }
}

const compiled = new WeakMap<HearingData, Usage>()

/** The usage that some data tells of; counted once. */
export function usageOf(data: HearingData, common: ReadonlySet<string>): Usage {
  let known = compiled.get(data)
  if (!known) {
    known = new Usage(data, common)
    compiled.set(data, known)
  }
  return known
}
