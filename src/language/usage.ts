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

/** The words of a list `count word word … count word …`, each with its count. */
function* counted(list: string): Iterable<[word: string, count: number]> {
  let count = 0
  for (const part of list.split(' ')) {
    if (/^[\d.]+$/.test(part)) count = Number(part)
    else yield [part, count]
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

/**
 * How likely a word is after the one or two before it: counts of the talk at hives, interpolated from triples to pairs to
 * single words (Witten–Bell). All logarithms are natural.
 */
export class Usage {
  private readonly ids = new Map<string, number>()
  private readonly names: string[] = []
  private readonly single: number[] = []
  /** Counts of pairs, by both words in one number. */
  private readonly pair = new Map<number, number>()
  /** Counts of triples, by the number of their first pair (`pairs2`) and the third word in one number. */
  private readonly triple = new Map<number, number>()
  /** What was counted behind a word, and behind a pair of words. */
  private readonly after1: After[] = []
  private readonly after2: After[] = []
  private readonly pairs2 = new Map<number, number>()
  private total = 0

  constructor(
    data: HearingData,
    private readonly common: ReadonlySet<string>,
  ) {
    for (const line of data.words) {
      for (const [word, count] of counted(line)) {
        this.ids.set(word, this.ids.size)
        this.names.push(word)
        this.single.push(count)
        this.total += count
        this.after1.push({ total: 0, kinds: 0 })
      }
    }
    for (const line of data.pairs)
      this.each(line, ([first], next, count) => {
        if (first === undefined) return
        this.pair.set(first * SHIFT + next, count)
        this.after1[first]!.total += count
        this.after1[first]!.kinds++
      })
    for (const line of data.triples)
      this.each(line, ([first, second], next, count) => {
        if (first === undefined || second === undefined) return
        const before = first * SHIFT + second
        let pair = this.pairs2.get(before)
        if (pair === undefined) {
          pair = this.after2.length
          this.pairs2.set(before, pair)
          this.after2.push({ total: 0, kinds: 0 })
        }
        this.triple.set(pair * SHIFT + next, count)
        const after = this.after2[pair]!
        after.total += count
        after.kinds++
      })
  }

  private each(line: string, take: (before: (number | undefined)[], next: number, count: number) => void): void {
    const [head = '', tail = ''] = line.split(': ')
    const before = head.split(' ').map((word) => this.ids.get(word))
    for (const [word, count] of counted(tail)) {
      const next = this.ids.get(word)
      if (next !== undefined) take(before, next, count)
    }
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
    return before < 0 || next < 0 ? 0 : (this.pair.get(before * SHIFT + next) ?? 0)
  }

  /** Each pair that was counted. */
  *allPairs(): Iterable<[first: string, second: string, count: number]> {
    for (const [key, count] of this.pair) yield [this.names[Math.floor(key / SHIFT)]!, this.names[key % SHIFT]!, count]
  }

  private one(id: number): number {
    return id < 0 ? (id === -2 ? EVERYDAY : ANY_OTHER) : (this.single[id]! + 0.2) / (this.total * 1.05)
  }

  private two(before: number, id: number): number {
    const below = this.one(id)
    if (before < 0) return below
    const { total, kinds } = this.after1[before]!
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
    const after = this.after2[pair]!
    const seen = id < 0 ? 0 : (this.triple.get(pair * SHIFT + id) ?? 0)
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
