import type { Grammar } from '../grammar/grammar.ts'
import fitted from './borders.json' with { type: 'json' }
import { BORDER, type Usage, usageOf, usageToken } from './usage.ts'
import { Break, type Word } from './word.ts'

/**
 * Where clauses begin in talk without marks: a logistic regression on the words on both sides of a gap, how far the last
 * border lies behind, and how the trade talks (`usage.ts`). Learned from the marks of punctuated notes by
 * `npm run borders`, which writes `borders.json`.
 */

/** How many numbers the cues are spread over, a power of two: a cue has no name, and those that fall on one number share its weight. */
export const SPREAD = 1 << 15
/** What one step of a packed weight is worth. */
export const STEP = 0.25
/** From which log odds on a clause begins, and from which a sentence. */
const CLAUSE = -0.5
const SENTENCE = 1.5

/** Weights by the number of their cue, in steps. `gaps` tells how far each lies from the one before, `sizes` what it is. */
export function unpackBorders({ gaps, sizes }: { gaps: string; sizes: string }): Int8Array {
  const weights = new Int8Array(SPREAD)
  let at = -1
  let n = 0
  for (let i = 0; i < gaps.length; i++) {
    const step = gaps.charCodeAt(i) - 34
    at += step < 0 ? FAR : step
    if (step >= 0) weights[at] = sizes.charCodeAt(n++) - MIDDLE
  }
  return weights
}
const FAR = 57
const MIDDLE = 78

/** The other way round; zeros take no place. */
export function packBorders(weights: ArrayLike<number>): { gaps: string; sizes: string } {
  let gaps = ''
  let sizes = ''
  let last = -1
  for (let at = 0; at < weights.length; at++) {
    const size = Math.max(-13, Math.min(13, weights[at]!))
    if (size === 0) continue
    for (; at - last > FAR; last += FAR) gaps += '!'
    gaps += String.fromCharCode(34 + at - last)
    sizes += String.fromCharCode(MIDDLE + size)
    last = at
  }
  return { gaps, sizes }
}

const VERB =
  /^(is|'s|are|was|were|am|be|been|has|have|had|do|does|did|gets?|got|looks?|looked|seems?|sees?|saw|seen|found|find|puts?|takes?|took|going|gone|goes|wants?|needs?|will|can|could|would|should|might|must|gave|give|left|leave|think|know|keep|kept|laying|came|come)$/

/** What a word is, as one number (FNV-1a). */
function numberOf(text: string): number {
  let state = 0x811c9dc5
  for (let i = 0; i < text.length; i++) state = Math.imul(state ^ text.charCodeAt(i), 0x01000193)
  return state
}

/** A cue of some kind, of one word or two, as a place among the weights. */
function cue(kind: number, a: number, b = 0): number {
  let x = Math.imul(kind + 1, 0x9e3779b1) ^ a
  x = Math.imul(x ^ (x >>> 15), 0x85ebca6b) ^ b
  x = Math.imul(x ^ (x >>> 13), 0xc2b2ae35)
  x = Math.imul(x ^ (x >>> 16), 0x27d4eb2f)
  return (x ^ (x >>> 15)) & (SPREAD - 1)
}

const within = (x: number, least: number, most: number): number => Math.max(least, Math.min(most, Math.round(x)))

/** Words as they are weighed: those that only fill are stepped over. */
export class Run {
  /** Index of each among all words. */
  readonly at: number[] = []
  private readonly hashes: number[] = []
  private readonly ends: number[] = []
  private readonly ids: number[] = []
  private readonly verbs: boolean[] = []
  private readonly border: number

  constructor(
    words: readonly Pick<Word, 'norm' | 'filler'>[],
    private readonly usage: Usage,
  ) {
    this.border = usage.id(BORDER)
    words.forEach(({ norm, filler }, i) => {
      if (filler || norm === '') return
      const token = usageToken(norm)
      this.at.push(i)
      this.hashes.push(numberOf(token))
      this.ends.push(numberOf(token.length > 4 ? `-${token.slice(-2)}` : token.length > 3 ? '~' : token))
      this.ids.push(usage.id(token))
      this.verbs.push(VERB.test(token))
    })
  }

  /** Whether the k-th word is a verb that makes a clause. */
  isVerb(k: number): boolean {
    return this.verbs[k]!
  }

  /** Cues that a clause begins at the k-th word, `since` words behind the last border, with or without a verb since. */
  cues(k: number, since: number, verb: boolean): number[] {
    const word = (n: number): number => this.hashes[k + n] ?? 1
    const end = (n: number): number => this.ends[k + n] ?? 1
    const id = (n: number): number => this.ids[k + n] ?? this.border
    const { usage, border } = this
    const a = word(-1)
    const b = word(0)
    const long = since > 24 ? 9 : since > 16 ? 8 : since > 11 ? 7 : since > 8 ? 6 : since > 6 ? 5 : since
    let ahead = 0
    for (let n = 0; n < 5 && ahead === 0; n++) if (this.verbs[k + n]) ahead = n + 1
    const here = usage.likelihood(id(-2), id(-1), id(0))
    const runsOn = here + usage.likelihood(id(-1), id(0), id(1))
    const cutOff =
      usage.likelihood(id(-2), id(-1), border) +
      usage.likelihood(id(-1), border, id(0)) +
      usage.likelihood(border, id(0), id(1))
    const out = [
      cue(0, 0),
      cue(1, a),
      cue(2, b),
      cue(3, word(-2)),
      cue(4, word(1)),
      cue(5, word(2)),
      cue(6, word(-3)),
      cue(7, a, b),
      cue(8, word(-2), a),
      cue(9, b, word(1)),
      cue(10, a, word(1)),
      cue(11, end(-1)),
      cue(12, end(0)),
      cue(13, end(1)),
      cue(14, end(-1), end(0)),
      cue(15, end(-1), b),
      cue(16, a, end(0)),
      cue(17, long),
      cue(18, long, b),
      cue(19, long, a),
      cue(20, long, +verb),
      cue(21, +verb, b),
      cue(22, +verb, end(0)),
      cue(23, ahead),
      cue(24, ahead, +verb),
      cue(25, ahead, b),
      cue(28, within(cutOff - runsOn, -10, 6)),
      cue(29, Math.min(5, usage.pairs(id(-1), id(0)))),
      cue(30, within(here - usage.likelihood(-1, -1, id(0)), -5, 6)),
    ]
    if (this.at[k - 1]! + 1 < this.at[k]!) out.push(cue(26, 0), cue(27, b))
    return out
  }
}

/** The log odds that a sentence begins at each word of a run. Linear in its length. */
export function weighBorders(run: Run, weights: ArrayLike<number>): number[] {
  const out: number[] = run.at.length > 0 ? [0] : []
  let since = 1
  let verb = false
  for (let k = 1; k < run.at.length; k++) {
    verb ||= run.isVerb(k - 1)
    let sum = 0
    for (const at of run.cues(k, since, verb)) sum += weights[at]!
    out.push(sum * STEP)
    since++
    if (sum * STEP > CLAUSE) {
      since = 1
      verb = false
    }
  }
  return out
}

/** A clause hardly ends behind these. */
const HOLDS_ON = new Set(
  'no a an the of with and than my your their our from into by in on to at for is are or not if when that what was were be been has have had after before because until till while which side'.split(
    ' ',
  ),
)
/** These carry a clause on. */
const GOES_ON = /^(or|than|after|before|until|till|because)$/
const HIVE = /^(hive|colony|nuc)$/

let weights: Int8Array | undefined

/** Reads with other weights from now on, to measure notes that the own ones were learned from; without any, with the own again. */
export function weighBordersBy(others?: Int8Array): void {
  weights = others
}

/** In words without marks: puts borders where clauses and sentences begin, before the words that fill a gap. */
export function learnedBreaks(words: readonly Word[], { hearing }: Grammar): void {
  if (!hearing) return
  weights ??= unpackBorders(fitted)
  const run = new Run(words, usageOf(hearing.data, hearing.common))
  weighBorders(run, weights).forEach((odds, k) => {
    if (odds <= (k < 2 ? SENTENCE : CLAUSE)) return
    if (odds <= SENTENCE && (HOLDS_ON.has(words[run.at[k - 1]!]!.norm) || GOES_ON.test(words[run.at[k]!]!.norm))) return
    if (words[run.at[k]!]!.norm === 'number' && HIVE.test(words[run.at[k - 1]!]!.norm)) return
    const word = words[run.at[k - 1]! + 1]!
    word.brk = Math.max(word.brk, odds > SENTENCE ? Break.hard : Break.inferred)
  })
}
