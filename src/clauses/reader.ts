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
import { type ClauseCue, cuesOf } from './cues.ts'
import { addsOf, type ClauseModel, oddsOf, type PackedClauses, unpackClauses } from './model.ts'
import { type ClauseNet, createNetReader, type Kept, type PackedNet, unpackNet } from './net.ts'

/** All that is learned of clauses, as `clauses.json` keeps it. */
export interface PackedSenses extends PackedClauses {
  readonly net: PackedNet
  readonly amounts: PackedAmounts
}

/** The same as it is reckoned with. */
export interface LearnedSenses {
  readonly model: ClauseModel
  readonly net: ClauseNet
  readonly amounts: LearnedAmounts
}

/** A clause, and what the model makes of it. */
export interface ClauseSense {
  readonly clause: Clause
  readonly cues: readonly ClauseCue[]
  /** Log odds of every fact by its cues. */
  readonly odds: Float64Array
  readonly kept: Kept
  /** Its words with amounts by their shape, as neighbours see them. */
  readonly shapes: readonly string[]
}

/** Tells what clauses say. The stages after it know this and nothing of how it is done: the page has it later than them. */
export interface ClauseReader {
  readonly facts: ClauseModel['facts']
  /** The clauses of an utterance, weighed; `before`: the last words before it. Remembers them, since notes are folded anew. */
  senses(words: readonly Word[], before: readonly string[]): readonly ClauseSense[]
  /** The facts whose log odds are at least so much, likeliest first. */
  likely(sense: ClauseSense, least: number): { readonly fact: number; readonly odds: number }[]
  /**
   * The words on which a fact rests: from the first to the last that add much to its odds, as word indices of the utterance,
   * `to` exclusive.
   */
  restsOn(sense: ClauseSense, fact: number): { from: number; to: number }
  /** The log odds that a clause gives a value of a field; undefined for what the model does not know. */
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

/** The value of a plan, whenever it is due; of an amount it is `#`. */
const DUE = 'due'
/** What the odds by cues and those of the net count. */
const [CUES, NET] = [0.6, 0.6]
/** What is less likely by its cues alone is not said, whatever the net makes of it. */
const HOPELESS = -5

export const unpackSenses = (packed: PackedSenses): LearnedSenses => ({
  model: unpackClauses(packed),
  net: unpackNet(packed.net),
  amounts: unpackAmounts(packed.amounts),
})

/** A reader of clauses by a model as it is kept, and how amounts are read in a list of words. */
export const clauseReader = (packed: PackedSenses, readAmount: ReadAmount): ClauseReader =>
  readerBy(unpackSenses(packed), readAmount)

/** The same by what was unpacked. */
export function readerBy(learned: LearnedSenses, readAmount: ReadAmount): ClauseReader {
  const { model } = learned
  const net = createNetReader(learned.net)
  const amounts = amountReader(learned.amounts)
  const oddsOfFact = ({ odds, kept }: ClauseSense, fact: number): number =>
    CUES * odds[fact]! + NET * net.odds(kept, fact)
  const known = new WeakMap<readonly Word[], { before: string; senses: readonly ClauseSense[] }>()
  return {
    facts: model.facts,
    valueSaid,
    amountOf: ({ clause, shapes }, which, before, later) =>
      amounts.likely(
        contextOfAmount(
          clause.amounts[which]!,
          shapes,
          before,
          later.flatMap((sense) => sense.shapes),
        ),
      ),
    amountsAfter: (before, { shapes }) => afterClause(before, shapes),
    senses(words, before) {
      const key = before.join(' ')
      const then = known.get(words)
      if (then?.before === key) return then.senses
      let last = before
      const senses = clausesOf(words, readAmount).map((clause) => {
        const cues = cuesOf(clause, last)
        const kept = net.keep(clause.tokens, last)
        last = clause.tokens
        return { clause, cues, odds: oddsOf(model, cues), kept, shapes: shapesOf(clause) }
      })
      known.set(words, { before: key, senses })
      return senses
    },
    likely(sense, least) {
      const out: { fact: number; odds: number }[] = []
      sense.odds.forEach((byCues, fact) => {
        if (byCues < HOPELESS) return
        const odds = oddsOfFact(sense, fact)
        if (odds >= least) out.push({ fact, odds })
      })
      return out.sort((a, b) => b.odds - a.odds)
    },
    restsOn({ clause: { tokens, spans }, cues }, fact) {
      const adds = addsOf(model, cues, fact, tokens.length)
      const much = Math.max(...adds) / 3
      const first = much > 0 ? adds.findIndex((x) => x >= much) : 0
      const last = much > 0 ? adds.findLastIndex((x) => x >= much) : adds.length - 1
      return { from: spans[first]![0], to: spans[last]![1] }
    },
    oddsFor(sense, field, value) {
      const said = /^todo\.\w+$/.test(field) ? DUE : typeof value === 'string' ? value : '#'
      const facts = [said, ...(typeof value === 'number' ? [String(value)] : [])].flatMap(
        (one) => model.numbers.get(`${field}=${one}`) ?? [],
      )
      return facts.length === 0 ? undefined : Math.max(...facts.map((fact) => oddsOfFact(sense, fact)))
    },
  }
}
