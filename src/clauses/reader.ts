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
import { BEFORE, type ClauseCue, cuesOf } from './cues.ts'
import { addsOf, type ClauseModel, oddsOf, type PackedClauses, unpackClauses } from './model.ts'
import { type ClauseNet, createNetReader, type Kept, type PackedNet, unpackNet } from './net.ts'
import { createTagger, type PackedTagger, spokenIn, type TaggerNet, unpackTagger } from './tagger.ts'

/** All that is learned of clauses, as `clauses.json` keeps it. */
export interface PackedSenses extends PackedClauses {
  readonly net: PackedNet
  readonly amounts: PackedAmounts
}

/** What was heard before an utterance, as far as it bears on what its clauses say. */
export interface HeardBefore {
  /** The last words of the clause before. */
  readonly words: readonly string[]
  /** What the tagger remembers of all before; null at the start. */
  readonly memory: Float64Array | null
}

/** The same as it is reckoned with. */
export interface LearnedSenses {
  readonly model: ClauseModel
  readonly net: ClauseNet
  readonly amounts: LearnedAmounts
  readonly tagger: TaggerNet
}

/** A clause, and what the model makes of it. */
export interface ClauseSense {
  readonly clause: Clause
  readonly cues: readonly ClauseCue[]
  /** Log odds of every fact by its cues. */
  readonly odds: Float64Array
  readonly kept: Kept
  /** Log odds by the tagger: for each of its words those of every fact that it knows, one word after the other. */
  readonly tags: Float32Array
  /** The same of the word that tells each fact most plainly. */
  readonly told: Float32Array
  /** Its words with amounts by their shape, as neighbours see them. */
  readonly shapes: readonly string[]
}

/** Tells what clauses say. The stages after it know this and nothing of how it is done: the page has it later than them. */
export interface ClauseReader {
  readonly facts: ClauseModel['facts']
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
/**
 * The same where the tagger knows the fact, where it alone does, and of amounts: logistic regressions on notes that none of them saw
 * (of told notes kept out, 57,000 facts told and three million not).
 */
const ALL = { base: 0.86, cues: 0.23, net: 0.15, tags: 0.67 } as const
const ALONE = { base: -0.07, tags: 0.94 } as const
const AMOUNT = { base: 0.81, net: 0.62, tags: 0.46 } as const
/** What is less likely by its cues alone is not said, whatever the net makes of it. */
const HOPELESS = -5

export const unpackSenses = (packed: PackedSenses, tagger: PackedTagger): LearnedSenses => ({
  model: unpackClauses(packed),
  net: unpackNet(packed.net),
  amounts: unpackAmounts(packed.amounts),
  tagger: unpackTagger(tagger),
})

/** A reader of clauses by what was learned as it is kept, and how amounts are read in a list of words. */
export const clauseReader = (packed: PackedSenses, tagger: PackedTagger, readAmount: ReadAmount): ClauseReader =>
  readerBy(unpackSenses(packed, tagger), readAmount)

/** The same by what was unpacked. */
export function readerBy(learned: LearnedSenses, readAmount: ReadAmount): ClauseReader {
  const { model } = learned
  const net = createNetReader(learned.net)
  const amounts = amountReader(learned.amounts)
  const tagger = createTagger(learned.tagger)
  const tagged = tagger.facts.length
  /** All facts by their number: those of the model, behind them those that the tagger knows alone; and which of the tagger's each is, or -1. */
  const numbers = new Map(model.numbers)
  const facts = [...model.facts]
  const tagOf = facts.map(() => -1)
  tagger.facts.forEach((fact, tag) => {
    const known = numbers.get(fact)
    if (known !== undefined) {
      tagOf[known] = tag
      return
    }
    const [field = '', value = ''] = fact.split('=')
    numbers.set(fact, facts.push({ field, value }) - 1)
    tagOf.push(tag)
  })
  /** Of which fact of the tagger an amount of each field is one. */
  const amountTags = new Map(
    learned.amounts.fields.map((field) => [field, tagOf[numbers.get(`${field}=#`) ?? -1] ?? -1]),
  )
  const oddsOfFact = (sense: ClauseSense, fact: number): number => {
    const tag = tagOf[fact]!
    const byTag = tag < 0 ? 0 : sense.told[tag]!
    if (fact >= model.facts.length) return ALONE.base + ALONE.tags * byTag
    const { odds, kept } = sense
    const [byCues, byNet] = [odds[fact]!, net.odds(kept, fact)]
    if (tag < 0) return CUES * byCues + NET * byNet
    return ALL.base + ALL.cues * byCues + ALL.net * byNet + ALL.tags * byTag
  }
  const known = new WeakMap<
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
          const tag = amountTags.get(field)!
          return {
            field,
            odds: tag < 0 ? odds : AMOUNT.base + AMOUNT.net * odds + AMOUNT.tags * tags[one.token * tagged + tag]!,
          }
        })
        .sort((a, b) => b.odds - a.odds)
    },
    amountsAfter: (before, { shapes }) => afterClause(before, shapes),
    senses(words, before) {
      const then = known.get(words)
      if (then && isSame(then.before, before)) return then
      const clauses = clausesOf(words, readAmount)
      const { said, borders } = spokenIn(clauses, words)
      const { odds: tags, memory } = tagger.tag(said, borders, before.memory)
      let last = before.words
      let at = 0
      const senses = clauses.map((clause) => {
        const { tokens } = clause
        const cues = cuesOf(clause, last)
        const kept = net.keep(tokens, last)
        last = tokens
        const own = tags.subarray(at * tagged, (at + tokens.length) * tagged)
        at += tokens.length
        return {
          clause,
          cues,
          odds: oddsOf(model, cues),
          kept,
          shapes: shapesOf(clause),
          tags: own,
          told: plainest(own, tagged),
        }
      })
      const found = { before, senses, heard: { words: last.slice(-BEFORE), memory } }
      known.set(words, found)
      return found
    },
    likely(sense, least) {
      const out: { fact: number; odds: number }[] = []
      for (let fact = 0; fact < facts.length; fact++) {
        const tag = tagOf[fact]!
        const byTag = tag < 0 ? HOPELESS : sense.told[tag]!
        if ((sense.odds[fact] ?? HOPELESS - 1) < HOPELESS && byTag < HOPELESS) continue
        const odds = oddsOfFact(sense, fact)
        if (odds >= least) out.push({ fact, odds })
      }
      return out.sort((a, b) => b.odds - a.odds)
    },
    restsOn(sense, fact) {
      const { tokens, spans } = sense.clause
      const tag = tagOf[fact]!
      const adds =
        tag < 0
          ? addsOf(model, sense.cues, fact, tokens.length)
          : Float64Array.from(tokens, (_, i) => 1 / (1 + Math.exp(-sense.tags[i * tagged + tag]!)))
      const much = Math.max(...adds) / 3
      const first = much > 0 ? adds.findIndex((x) => x >= much) : 0
      const last = much > 0 ? adds.findLastIndex((x) => x >= much) : adds.length - 1
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
