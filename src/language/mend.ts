import type { Grammar } from '../grammar/grammar.ts'
import type { Hearing, HearingData } from '../grammar/hearing.ts'
import { Beam, type Hypothesis } from './beam.ts'
import { type Near, NearWords, type Sounding, soundings } from './near-words.ts'
import { UNITS } from './number-words.ts'
import { hearStrange, newStrangeness, strangeShare } from './strange.ts'
import { BORDER, NUMBER, type Usage, usageOf, usageToken } from './usage.ts'
import { Break, type Word } from './word.ts'

/**
 * The noisy channel: of all ways in which a stretch of words may have been meant, the likeliest one given how the trade
 * talks (`usage.ts`) and how near the words sound (`near-words.ts`). What was heard stays unless something else is a good
 * deal likelier.
 */

export const TUNE = {
  /** ln of how likely a word is misheard. */
  wrong: -3.6,
  /** Per unit of distance of sound. */
  far: 6,
  /** ln of how likely a recogniser adds a small word. */
  added: -9.5,
  split: -4,
  joined: -4,
  /** A word that is no everyday one is seldom what a recogniser writes by mistake. */
  odd: -6,
  /** Words of the very same sound. */
  same: 1.5,
  /** How much likelier the other words must be in a clear text, by how much less per share of strange words, and at least. */
  margin: 3,
  slope: 60,
  least: 0,
  beam: 8,
  /** ln of the share of one number among all. */
  number: -2.3,
  /** A number that comes next in the row of hives. */
  due: 2,
}

/** Never put right, and never what something is put right to: a denial that was not heard must not appear ("now queen");
 * and words to other people. */
const DENIALS = new Set(
  "please thanks yes yeah no not now new know knew never none nothing nobody neither nor without hardly barely cannot n't queenless queenright unmarked uncapped".split(
    ' ',
  ),
)
/** What a number behind it calls. */
const CALLS = /^(hive|number|colony|nuc)$/
/** Small words that recognisers add where nothing was said. */
const ADDED = new Set('the a an and of to in it is that uh on at as'.split(' '))

interface Compiled {
  readonly usage: Usage
  readonly near: NearWords
}

const compiled = new WeakMap<HearingData, Compiled>()

function hearingOf(data: HearingData, common: ReadonlySet<string>): Compiled {
  let known = compiled.get(data)
  if (!known) {
    const usage = usageOf(data, common)
    const meant = data.meant ?? (() => meantBy(data, usage))
    known = { usage, near: new NearWords(data, meant, (word) => !DENIALS.has(word)) }
    compiled.set(data, known)
  }
  return known
}

const NUMBERS =
  'one two three four five six seven eight nine ten eleven twelve fifteen twenty thirty fifty hundred'.split(' ')

/** What words may be put right to, with their sounds: what is said often enough. */
export function meantBy(data: HearingData, usage: Usage): Sounding[] {
  const out: [said: string, count: number][] = []
  const mayBe = new Set(usage.words.filter((word) => /^[a-z]+$/.test(word) && !DENIALS.has(word)))
  for (const word of mayBe) {
    const count = usage.count(usage.id(word))
    if (count >= 3) out.push([word, count])
  }
  for (const word of NUMBERS) out.push([word, 200])
  usage.eachPair((first, second, count) => {
    if (count >= 4 && mayBe.has(first) && mayBe.has(second) && first.length + second.length > 5)
      out.push([`${first} ${second}`, count])
  })
  return soundings(data, out)
}

interface Edit {
  readonly from: number
  readonly to: number
  readonly words: readonly string[]
  readonly distance: number
}

type Way = Hypothesis<Edit>

/** Puts misheard words right where the talk around them says so. The cost of a repair stays on the words. */
export function mendWords(words: Word[], grammar: Grammar): void {
  const { hearing: data } = grammar
  if (!data || words.length === 0) return
  for (const edit of new Mending(words, data).edits()) apply(words, edit)
}

/** One list of words, gone over from the first to the last. */
class Mending {
  private readonly words: readonly Word[]
  private readonly data: Hearing
  private readonly usage: Usage
  private readonly near: NearWords
  /** Places of the words that count, and their numbers in the usage. */
  private readonly at: number[] = []
  private readonly ids: readonly number[]
  private readonly border: number
  private readonly number: number
  private readonly margin: number
  private readonly due: readonly (string | undefined)[]
  private readonly doubtful: readonly boolean[]
  /** The likeliest ways up to each of the words; those behind the second next do not exist yet. */
  private here: Beam<Edit>
  private next: Beam<Edit>
  private secondNext: Beam<Edit>

  constructor(words: readonly Word[], data: Hearing) {
    this.words = words
    this.data = data
    const { usage, near } = hearingOf(data.data, data.common)
    this.usage = usage
    this.near = near
    const strange = newStrangeness()
    hearStrange(strange, { words, suspect: null }, data)
    this.margin = Math.max(TUNE.least, TUNE.margin - TUNE.slope * Math.max(0, strangeShare(strange) - 0.015))
    const { at } = this
    for (let i = 0; i < words.length; i++) if (!words[i]!.filler && words[i]!.norm !== '') at.push(i)
    this.ids = at.map((i) => usage.id(usageToken(words[i]!.norm)))
    this.border = usage.id(BORDER)
    this.number = usage.id(NUMBER)
    this.due = dueNumbers(words, at)
    const said = new Map<string, number>()
    for (const i of at) said.set(words[i]!.norm, (said.get(words[i]!.norm) ?? 0) + 1)
    const ofBees = nearBees(words, at)
    this.doubtful = at.map((_, k) => ofBees[k] === true && this.isDoubtful(k, said))
    this.here = this.beamAt(0)
    this.next = this.beamAt(1)
    this.secondNext = this.beamAt(2)
  }

  /** What is to be put right on the likeliest way, the last first. */
  edits(): Edit[] {
    this.here.take(-1, this.border, 0, undefined, undefined)
    for (let k = 0; k < this.at.length; k++) {
      this.goOver(k)
      this.here = this.next
      this.next = this.secondNext
      this.secondNext = this.beamAt(k + 3)
    }
    let best: Way | undefined
    for (const way of this.here.ways) {
      const end = this.step(way, this.border, 0)
      if (!best || end.score > best.score) best = end
    }
    const edits: Edit[] = []
    for (let way = best; way; way = way.back) if (way.edit) edits.push(way.edit)
    return edits
  }

  /** Goes on from each way up to a word: it stays, or was meant otherwise. */
  private goOver(k: number): void {
    const { words, at, ids, border, data, doubtful } = this
    const word = words[at[k]!]!
    const singles = doubtful[k] ? withOthers(withDue(this.near.near([word.norm]), this.due[k]), word) : []
    const oddity = data.common.has(word.norm) ? 0 : TUNE.odd
    const following = words[at[k + 1] ?? -1]
    const isJoined =
      following !== undefined &&
      following.brk === Break.none &&
      following.start - word.end <= 2 &&
      (doubtful[k] || doubtful[k + 1]) &&
      mayChange(word) &&
      mayChange(following)
    const doubles = isJoined ? this.near.near([word.norm, following.norm]) : []
    const oddities = oddity + (following === undefined || data.common.has(following.norm) ? 0 : TUNE.odd)
    const dueHere = this.due[k]
    for (const from of this.here.ways) {
      const base = from.before === border || !this.isBorder(k) ? from : this.step(from, border, 0)
      this.next.take(base.before, ids[k]!, this.scoreAfter(base, ids[k]!, 0), base, undefined)
      for (const near of singles) {
        const { words: meant, distance } = near
        const isDue = dueHere !== undefined && meant.length === 1 && meant[0] === dueHere
        const cost =
          TUNE.wrong +
          doubtOf(word) +
          oddity +
          (distance < 0.15 ? TUNE.same : 0) -
          TUNE.far * distance +
          (meant.length > 1 ? TUNE.split : 0) +
          (isDue ? TUNE.due : 0)
        this.put(this.next, base, near, at[k]!, at[k]! + 1, cost)
      }
      const leftOut = this.leftOut(base, k)
      if (leftOut !== null) {
        const edit = { from: at[k]!, to: at[k]! + 1, words: [], distance: 0.5 }
        this.next.take(base.further, base.before, base.score + leftOut, base, edit)
      }
      for (const near of doubles) {
        const cost = TUNE.wrong + oddities - TUNE.far * near.distance + (near.words.length === 1 ? TUNE.joined : -0.7)
        this.put(this.secondNext, base, near, at[k]!, at[k + 1]! + 1, cost)
      }
    }
  }

  /** What it costs to take a word for one that the recogniser added; null where it cannot be one. */
  private leftOut(base: Way, k: number): number | null {
    const { words, at, ids, usage } = this
    const word = words[at[k]!]!
    if (!ADDED.has(word.norm) || this.isBorder(k + 1)) return null
    const isBetween = CALLS.test(words[at[k - 1] ?? -1]?.norm ?? '') && ids[k + 1] === this.number && !this.isBorder(k)
    if (isBetween) return -1
    const isAdded =
      this.doubtful[k] &&
      word.brk === Break.none &&
      base.before >= 0 &&
      Math.min(usage.pairs(base.before, ids[k]!), usage.pairs(ids[k]!, ids[k + 1]!)) < 1 &&
      usage.pairs(base.before, ids[k + 1]!) > 2
    return isAdded ? TUNE.added : null
  }

  /** Up to the end all ways are kept: the border behind it may favour any. */
  private beamAt(k: number): Beam<Edit> {
    return new Beam(k === this.at.length ? Number.POSITIVE_INFINITY : TUNE.beam)
  }

  private isBorder(k: number): boolean {
    return k >= this.at.length || this.words[this.at[k]!]!.brk === Break.hard
  }

  private scoreAfter(from: Way, id: number, cost: number): number {
    return from.score + cost + this.usage.likelihood(from.further, from.before, id)
  }

  private step(from: Way, id: number, cost: number): Way {
    return { further: from.before, before: id, score: this.scoreAfter(from, id, cost), back: from, edit: undefined }
  }

  /** Takes in the way on which some words were meant for one or two others. */
  private put(
    beam: Beam<Edit>,
    from: Way,
    { words: meant, distance }: Near,
    start: number,
    to: number,
    cost: number,
  ): void {
    let { further, before, score } = from
    let more = cost - this.margin
    for (const word of meant) {
      const token = usageToken(word)
      const id = this.usage.id(token)
      if (token === NUMBER) more += TUNE.number
      // likelihoods are below 1: it can only get worse
      if (!beam.mayTake(score + more)) return
      score = score + more + this.usage.likelihood(further, before, id)
      further = before
      before = id
      more = 0
    }
    if (beam.mayTake(score)) beam.take(further, before, score, from, { from: start, to, words: meant, distance })
  }

  private isDoubtful(k: number, said: ReadonlyMap<string, number>): boolean {
    const { data, usage, border, ids } = this
    const word = this.words[this.at[k]!]!
    // a word of no list that comes again is a name
    if (!data.common.has(word.norm) && said.get(word.norm)! > 1) return false
    if (word.alternatives && mayChange(word)) return true
    if (!mayChange(word) || (data.trade.has(word.norm) && !data.common.has(word.norm))) return false
    const before = this.isBorder(k) ? border : ids[k - 1]!
    const after = this.isBorder(k + 1) ? border : ids[k + 1]!
    return usage.pairs(before, ids[k]!) < 2 || usage.pairs(ids[k]!, after) < 2
  }
}

/** The number that must be meant behind "hive" is a candidate however it sounds. */
function withDue(near: readonly Near[], due: string | undefined): readonly Near[] {
  return due === undefined || near.some(({ words }) => words[0] === due)
    ? near
    : [...near, { words: [due], distance: 1.2 }]
}

/** Words that hardly anybody says but of bees; and how many words away one may be for others to be about bees too. */
const OF_BEES =
  /^(bees?|hives?|nucs?|queen\w*|requeen\w*|brood\w*|larvae?|grubs?|combs?|frames?|cells?|supers?|swarm\w*|drones?|nectar|pollen|honey|varroa|mites?|beetles?|excluders?|supersed\w*|fondant|oxalic|formic|propolis|seams?|cappe?d|foundation|eggs?)$/
const REACH = 40
/** A text shorter than this is taken to be about bees. */
const SHORT = 60

/** Which words stand near words of the trade: in other talk nothing is put right. */
function nearBees(words: readonly Word[], at: readonly number[]): boolean[] {
  if (at.length < SHORT) return at.map(() => at.some((i) => OF_BEES.test(words[i]!.norm)))
  const out = new Array<boolean>(at.length).fill(false)
  let last = Number.NEGATIVE_INFINITY
  let before = Number.NEGATIVE_INFINITY
  const see = (k: number): void => {
    if (!OF_BEES.test(words[at[k]!]!.norm)) return
    before = last
    last = k
  }
  // two of them, on one side or around
  for (let k = 0; k < at.length; k++) {
    see(k)
    if (k - before <= REACH) out[k] = true
  }
  last = before = Number.POSITIVE_INFINITY
  for (let k = at.length - 1; k >= 0; k--) {
    see(k)
    if (before - k <= REACH) out[k] = true
  }
  return out
}

/** What the engine itself thought of besides is near, however it sounds. */
function withOthers(near: readonly Near[], { alternatives = [] }: Word): readonly Near[] {
  if (alternatives.length === 0) return near
  const others = alternatives
    .map((text) => text.toLowerCase().trim())
    .filter((norm) => /^[a-z]+$/.test(norm) && !DENIALS.has(norm))
    .map((norm, rank) => ({ words: [norm], distance: 0.1 + 0.05 * rank }))
  return [...others, ...near.filter(({ words }) => !others.some((other) => other.words[0] === words.join(' ')))]
}

/** A word that the engine doubts is sooner misheard, in log-odds; one that it is sure of seldom is. */
const doubtOf = ({ confidence }: Word): number =>
  confidence === undefined ? 0 : confidence < 0.3 ? 1.5 : confidence < 0.6 ? 0.7 : confidence > 0.95 ? -1 : 0

/** For a word behind "hive" or "number", or alone between two stops: the number that is next in the row, as a word. */
function dueNumbers(words: readonly Word[], at: readonly number[]): (string | undefined)[] {
  let last: number | undefined
  return at.map((i, k) => {
    const before = words[at[k - 1] ?? -1]
    const isCalled = before !== undefined && CALLS.test(before.norm) && words[i]!.brk < Break.soft
    const next = words[at[k + 1] ?? -1]
    const isAlone = words[i]!.brk === Break.hard && (next === undefined || next.brk === Break.hard)
    if (!isCalled && !isAlone) return undefined
    const heard = /^\d{1,2}$/.test(words[i]!.norm) ? Number(words[i]!.norm) : UNITS[words[i]!.norm]
    if (heard === undefined) return last === undefined ? undefined : NUMBERS[last]
    if (isCalled || heard === (last ?? 0) + 1) last = heard
    return undefined
  })
}

const mayChange = (word: Word): boolean =>
  /^[a-z][a-z']*$/.test(word.norm) && !DENIALS.has(word.norm) && word.cost === 0 && word.norm.length > 0

/** A repair's cost by how far it had to reach. */
const costOf = (distance: number): number => Math.min(0.9, 0.2 + 0.3 * distance)

function apply(words: Word[], { from, to, words: meant, distance }: Edit): void {
  const cost = costOf(distance)
  const inside: number[] = []
  for (let i = from; i < to; i++) if (!words[i]!.filler) inside.push(i)
  for (const i of inside) {
    words[i]!.cost = cost
    words[i]!.by = 'sound'
  }
  if (meant.length > inside.length) splitInTwo(words, inside[0]!)
  inside.forEach((i, n) => {
    const norm = meant[n]
    words[i]!.norm = norm ?? ''
    if (norm === undefined) words[i]!.filler = true
  })
  if (meant.length > inside.length) words[inside[0]! + 1]!.norm = meant[1]!
}

function splitInTwo(words: Word[], i: number): void {
  const word = words[i]!
  const cut = word.start + Math.max(1, (word.end - word.start) >> 1)
  const tail: Word = { ...word, start: cut, said: word.said.slice(cut - word.start), brk: Break.none }
  const head: Word = { ...word, end: cut, said: word.said.slice(0, cut - word.start), mark: '' }
  words.splice(i, 1, head, tail)
}
