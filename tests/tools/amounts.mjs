// Learns what amounts are amounts of (src/clauses/amount-net.ts) from the labelled notes.
import { once } from 'node:events'
import { isMainThread, parentPort, Worker, workerData } from 'node:worker_threads'
import { factOf, inside, tokensOf, utterancesIn, whereIs } from './clauses.mjs'
import { notesOf } from './labelled.mjs'
import { misheardCopies } from './misheard-copies.mjs'
import { agrees } from './score-readings.mjs'
import { learnSlotNet } from './slot-net.mjs'

const root = new URL('../../', import.meta.url)

/** Fields that the reader converts or works out: an amount alone does not tell them. */
const NOT_BY_AMOUNT =
  /^(visit\.|weather\.|stores\.weight|weight\.|honey\.(taken|moisture)|mites\.(perHundred|dropPerDay|days)|moved\.|stings$)|\.(when|amount|year)$/
/** Of every so many notes the amounts of a misheard copy are learned, too. */
const MISHEARD = 2
/** A field must have been told by so many amounts. */
const ENOUGH = 60
/** How the net is learned: a word must stand around so many amounts. */
const LEARNING = { seen: 12, hidden: 48, rounds: 6, leftOut: { word: 0.1, hidden: 0.2 } }

/**
 * The amounts of the labelled notes for work, or of all their parts but one, as written and bare, and of misheard copies: of what a
 * number is one must not hang on all words around it being right.
 */
export function amountsOfNotes(without) {
  const parts = ['fit', 'told'].filter((part) => part !== without)
  const copyOf = misheardCopies(root)
  return parts
    .flatMap((part) => notesOf(inside, root, part))
    .flatMap(({ note, gold, inputs }, i) => [
      ...Object.values(inputs).flatMap((input) => ofNote(gold, input)),
      ...(i % MISHEARD === 0 ? ofNote(gold, ...copyOf(note, inputs)) : []),
    ])
}

/** The amounts of one labelled note; `misheard`: what was said, and where each place of it was heard. */
function ofNote(gold, input, misheard) {
  const words = tokensOf(misheard?.said ?? input.text ?? input)
  const numbers = []
  let near = 0
  for (const [facts, isSure] of [
    [gold.facts, true],
    [gold.optional ?? [], false],
  ])
    for (const { field, value, quote } of facts) {
      const fact = factOf(field, value)
      const hit = fact && quote && whereIs(words, quote, near)
      if (!hit) continue
      if (isSure) near = hit.start
      const heard = misheard?.at(hit) ?? hit
      if (fact.endsWith('#')) numbers.push({ ...heard, field, value, isSure, isMisheard: misheard !== undefined })
    }
  return rowsOf(clausesIn(input), numbers)
}

/** The clauses of some text, each with its utterance. */
const clausesIn = (input) =>
  utterancesIn(input).flatMap(({ words }, turn) =>
    inside.clausesOf(words, inside.readAmount).map((clause) => ({ clause, turn, words })),
  )

/** The amounts of some clauses, with what stands around each and what they tell. `facts`: those that are numbers, and where each is said; of a misheard one it is not known what it tells. */
function rowsOf(clauses, facts) {
  const rows = []
  let before = { shapes: [], roles: [] }
  clauses.forEach(({ clause, turn: own, words }, c) => {
    const shapes = inside.shapesOf(clause)
    // what is said later in the same utterance
    const later = []
    for (let k = c + 1; k < clauses.length && clauses[k].turn === own && later.length < 16; k++)
      later.push(...inside.shapesOf(clauses[k].clause))
    for (const one of clause.amounts) {
      const [from, to] = clause.spans[one.token]
      const at = [words[from].start, words[to - 1].end]
      const over = facts.filter((fact) => fact.start < at[1] && fact.end > at[0])
      const says = over.filter(({ field, value }) => agrees(inside.valueSaid(field, one.amount), value))
      const sure = says.filter(({ isSure }) => isSure)
      rows.push({
        context: inside.contextOfAmount(one, shapes, before, later),
        tells: new Set(sure.map(({ field }) => field)),
        open: new Set(over.filter((fact) => fact.isMisheard || says.includes(fact)).map(({ field }) => field)),
      })
      before = { ...before, roles: [sure[0]?.field ?? 'none', ...before.roles] }
    }
    before = inside.afterClause(before, shapes)
  })
  return rows
}

/** A net of amounts of `rows`, and the fields it tells. */
export function learnAmounts(rows) {
  const told = new Map()
  for (const { tells } of rows) for (const field of tells) told.set(field, (told.get(field) ?? 0) + 1)
  const fields = [...told.keys()].filter((field) => told.get(field) >= ENOUGH && !NOT_BY_AMOUNT.test(field)).sort()
  const number = new Map(fields.map((field, i) => [field, i]))
  const numbers = (set) => new Set([...set].flatMap((field) => number.get(field) ?? []))
  const net = learnSlotNet(
    rows.map(({ context, tells, open }) => ({
      slots: inside.listed((give) => inside.slotsOfAmount(context, give)),
      tells: numbers(tells),
      open: numbers(open),
    })),
    { slots: inside.AMOUNT_SLOTS, asked: fields.length, ...LEARNING },
  )
  return { fields: fields.join(' '), net: inside.packSlotNet(net) }
}

/** What is learned without the notes of a part, as it is kept; on a thread of its own (this file), beside what else is done. */
export async function amountsWithout(part) {
  const [packed] = await once(new Worker(new URL(import.meta.url), { workerData: { without: part } }), 'message')
  return packed
}

if (!isMainThread && workerData?.without !== undefined)
  parentPort.postMessage(learnAmounts(amountsOfNotes(workerData.without)))
