// Learns what amounts are amounts of (src/clauses/amount-net.ts) from the labelled notes.
import { agrees } from './score-readings.mjs'
import { learnSlotNet } from './slot-net.mjs'

/** Fields that the reader converts or works out: an amount alone does not tell them. */
const NOT_BY_AMOUNT =
  /^(visit\.|weather\.|stores\.weight|weight\.|honey\.(taken|moisture)|mites\.(perHundred|dropPerDay|days)|moved\.|stings$)|\.(when|amount|year)$/
/** A field must have been told by so many amounts. */
const ENOUGH = 60
/** How the net is learned: a word must stand around so many amounts. */
const LEARNING = { seen: 12, hidden: 48, rounds: 6, leftOut: { word: 0.1, hidden: 0.2 } }

/** The amounts of the clauses of a note, with what stands around each and what they tell. `facts`: those that are numbers, and where each is said; of a misheard one it is not known what it tells. */
export function amountRows(inside, clauses, facts) {
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
export function learnAmounts(inside, rows) {
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
