import type { Amount } from '../language/amounts.ts'
import type { Word } from '../language/word.ts'
import {
  afterClause,
  amountReader,
  contextOfAmount,
  type LearnedAmounts,
  type PackedAmounts,
  shapesOf,
  unpackAmounts,
} from './amount-net.ts'
import { type AmountsBefore, type Clause, clausesOf, type ReadAmount, valueSaid } from './clause.ts'
import { createTagger, type PackedTagger, spokenIn, type TaggerNet, unpackTagger } from './tagger.ts'

/** What was heard before an utterance, as far as it bears on what its clauses say. */
export interface HeardBefore {
  /** The last words of the clause before. */
  readonly words: readonly string[]
  /** What the tagger remembers of all before; null at the start. */
  readonly memory: Float64Array | null
}

/** All that is learned of clauses, as it is reckoned with. */
export interface LearnedSenses {
  readonly amounts: LearnedAmounts
  readonly tagger: TaggerNet
}

/** A clause, and what its words tell. */
export interface ClauseSense {
  readonly clause: Clause
  /** Log odds by the tagger: for each of its words those of every fact, one word after the other. */
  readonly tags: Float32Array
  /** The same of the word that tells each fact most plainly. */
  readonly told: Float32Array
  /** Its words with amounts by their shape, as neighbours see them. */
  readonly shapes: readonly string[]
}

/** A field and its value; the value is `#` where it is an amount said in the clause, `due` for a plan. */
export interface Fact {
  readonly field: string
  readonly value: string
}

/** Tells what clauses say. The stages after it know this and nothing of how it is done: the page has it later than them. */
export interface ClauseReader {
  readonly facts: readonly Fact[]
  /** The clauses of an utterance, weighed, and what was heard behind it. Remembers them, since notes are folded anew. */
  senses(
    words: readonly Word[],
    before: HeardBefore,
  ): { readonly senses: readonly ClauseSense[]; readonly heard: HeardBefore }
  /** The facts whose log odds are at least so much, likeliest first. */
  likely(sense: ClauseSense, least: number): { readonly fact: number; readonly odds: number }[]
  /**
   * The words on which a fact rests: from the first to the last that add much to its odds, as word indices of the utterance,
   * `to` exclusive.
   */
  restsOn(sense: ClauseSense, fact: number): { from: number; to: number }
  /** The log odds that a clause gives a value of a field; undefined for what is not known. */
  oddsFor(sense: ClauseSense, field: string, value: unknown): number | undefined
  /** Of what an amount of a clause is one most likely: fields with their log odds, likeliest first. `later` are the clauses behind it. */
  amountOf(
    sense: ClauseSense,
    which: number,
    before: AmountsBefore,
    later: readonly ClauseSense[],
  ): readonly { readonly field: string; readonly odds: number }[]
  /** What bears on amounts after a clause; what its own were read as was added to `before`. */
  amountsAfter(before: AmountsBefore, sense: ClauseSense): AmountsBefore
  /** An amount as the value of a field: shares of a face are percentages. */
  valueSaid(field: string, amount: Amount): number | [number, number]
}

/** So many words of the clause before may have a say. */
const BEFORE = 6
/** The value of a plan, whenever it is due; of an amount it is `#`. */
const DUE = 'due'
/** What the tagger's odds count: of a clause's fact, and beside those of the net of amounts (logistic regressions on told notes kept out). */
const TOLD = { base: -0.07, tags: 0.94 } as const
const AMOUNT = { base: 0.81, net: 0.62, tags: 0.46 } as const

export const unpackSenses = (amounts: PackedAmounts, tagger: PackedTagger): LearnedSenses => ({
  amounts: unpackAmounts(amounts),
  tagger: unpackTagger(tagger),
})

/** A reader of clauses by what was learned as it is kept, and how amounts are read in a list of words. */
export const clauseReader = (amounts: PackedAmounts, tagger: PackedTagger, readAmount: ReadAmount): ClauseReader =>
  readerBy(unpackSenses(amounts, tagger), readAmount)

/** The same by what was unpacked. */
export function readerBy(learned: LearnedSenses, readAmount: ReadAmount): ClauseReader {
  const amounts = amountReader(learned.amounts)
  const tagger = createTagger(learned.tagger)
  const known = tagger.facts.length
  const numbers = new Map(tagger.facts.map((fact, i) => [fact, i]))
  const facts = tagger.facts.map((fact): Fact => {
    const [field = '', value = ''] = fact.split('=')
    return { field, value }
  })
  /** Which fact it is that an amount is one of each field; -1 where the tagger does not know it. */
  const amountFacts = new Map(learned.amounts.fields.map((field) => [field, numbers.get(`${field}=#`) ?? -1]))
  const oddsOfFact = (sense: ClauseSense, fact: number): number => TOLD.base + TOLD.tags * sense.told[fact]!
  const sensed = new WeakMap<
    readonly Word[],
    { before: HeardBefore; senses: readonly ClauseSense[]; heard: HeardBefore }
  >()
  return {
    facts,
    valueSaid,
    amountOf(sense, which, before, later) {
      const { clause, shapes, tags } = sense
      const one = clause.amounts[which]!
      const byNet = amounts.likely(
        contextOfAmount(
          one,
          shapes,
          before,
          later.flatMap((sense) => sense.shapes),
        ),
      )
      return byNet
        .map(({ field, odds }) => {
          const fact = amountFacts.get(field)!
          return {
            field,
            odds: fact < 0 ? odds : AMOUNT.base + AMOUNT.net * odds + AMOUNT.tags * tags[one.token * known + fact]!,
          }
        })
        .sort((a, b) => b.odds - a.odds)
    },
    amountsAfter: (before, { shapes }) => afterClause(before, shapes),
    senses(words, before) {
      const then = sensed.get(words)
      if (then && isSame(then.before, before)) return then
      const clauses = clausesOf(words, readAmount)
      const { said, borders } = spokenIn(clauses, words)
      const { odds: tags, memory } = tagger.tag(said, borders, before.memory)
      let at = 0
      const senses = clauses.map((clause): ClauseSense => {
        const own = tags.subarray(at * known, (at + clause.tokens.length) * known)
        at += clause.tokens.length
        return { clause, shapes: shapesOf(clause), tags: own, told: plainest(own, known) }
      })
      const last = clauses[clauses.length - 1]?.tokens ?? before.words
      const found = { before, senses, heard: { words: last.slice(-BEFORE), memory } }
      sensed.set(words, found)
      return found
    },
    likely(sense, least) {
      const out: { fact: number; odds: number }[] = []
      for (let fact = 0; fact < known; fact++) {
        const odds = oddsOfFact(sense, fact)
        if (odds >= least) out.push({ fact, odds })
      }
      return out.sort((a, b) => b.odds - a.odds)
    },
    restsOn(sense, fact) {
      const { tokens, spans } = sense.clause
      const adds = Float64Array.from(tokens, (_, i) => 1 / (1 + Math.exp(-sense.tags[i * known + fact]!)))
      const much = Math.max(...adds) / 3
      const first = adds.findIndex((x) => x >= much)
      const last = adds.findLastIndex((x) => x >= much)
      return { from: spans[first]![0], to: spans[last]![1] }
    },
    oddsFor(sense, field, value) {
      const said = /^todo\.\w+$/.test(field) ? DUE : typeof value === 'string' ? value : '#'
      const facts = [said, ...(typeof value === 'number' ? [String(value)] : [])].flatMap(
        (one) => numbers.get(`${field}=${one}`) ?? [],
      )
      return facts.length === 0 ? undefined : Math.max(...facts.map((fact) => oddsOfFact(sense, fact)))
    },
  }
}

/** For each of so many facts the most that any word gives it. */
function plainest(tags: Float32Array, facts: number): Float32Array {
  const most = tags.slice(0, facts)
  for (let at = facts; at < tags.length; at++) if (tags[at]! > most[at % facts]!) most[at % facts] = tags[at]!
  return most
}

/** Whether as much was heard, number by number: what is worked out of it is the same then. */
function isSame(a: HeardBefore, b: HeardBefore): boolean {
  if (a === b) return true
  return (
    a.words.length === b.words.length &&
    a.words.every((word, i) => word === b.words[i]) &&
    a.memory?.length === b.memory?.length &&
    (a.memory === null || a.memory.every((x, i) => x === b.memory![i]))
  )
}
