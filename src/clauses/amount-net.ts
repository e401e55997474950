import type { Amount } from '../language/amounts.ts'
import {
  type Give,
  inHeap,
  inSlots,
  type PackedSlotNet,
  type SlotNetNumbers,
  slotNet,
  unpackSlotNet,
} from '../slot-net.ts'
import { type AmountsBefore, type Clause, sortOf } from './clause.ts'

/*
 * What an amount is an amount of, told from the words around it: "one is ninety five, the other eighty" in a walk over honey
 * frames. A clause may hold several. Learned by `npm run clauses`.
 */

/** Words that count by their place before and behind an amount; those farther off count as a heap. */
const NEAR = { before: 8, behind: 6 } as const
const FAR = { before: 24, behind: 8 } as const
/** By what a word of a heap counts. */
const SHARE = 1 / 6
/** So many earlier amounts have a say by what they were read as. */
const ROLES = 2
/** How far back words are looked at. */
const LOOKS_BACK = NEAR.before + FAR.before

const OWN = NEAR.before + NEAR.behind
const FIRST_ROLE = OWN + 1
const HEAPS = FIRST_ROLE + ROLES
export const AMOUNT_SLOTS = HEAPS + 2

/** What the net of amounts looks at. */
export interface AmountContext {
  readonly amount: Amount
  /** Words before it, the last first, and behind it; amounts by their sort. */
  readonly before: readonly string[]
  readonly behind: readonly string[]
  /** What the amounts before it were read as, the last first. */
  readonly roles: readonly string[]
}

/** An amount as a neighbour sees it. */
function shapeOf(amount: Amount): string {
  const sort = sortOf(amount)
  if (sort !== '<n>' || amount.lo <= 12) return sort
  return amount.lo <= 100 && amount.lo % 5 === 0 ? '<n5>' : amount.lo <= 31 ? '<n31>' : '<N>'
}

/** An amount as it sees itself. */
const ownShape = (amount: Amount): string =>
  sortOf(amount) === '<n>' && amount.lo <= 12
    ? `<${amount.lo}>`
    : `${shapeOf(amount)}${amount.kind === 'fraction' ? '/' : ''}`

/** The words of a clause with its amounts by their sort, a mark behind the last. */
export function shapesOf({ tokens, amounts }: Clause): string[] {
  const out = [...tokens]
  for (const { amount, token } of amounts) out[token] = shapeOf(amount)
  out.push(',')
  return out
}

/** The words of a clause with its amounts as they see themselves. */
export function ownShapesOf({ tokens, amounts }: Clause): string[] {
  const out = [...tokens]
  for (const { amount, token } of amounts) out[token] = ownShape(amount)
  return out
}

/** What stands around an amount of a clause, whose words are `shapes`; `later` are those behind the clause. */
export function contextOfAmount(
  { amount, token }: Clause['amounts'][number],
  shapes: readonly string[],
  before: AmountsBefore,
  later: readonly string[],
): AmountContext {
  return {
    amount,
    before: [...before.shapes, ...shapes.slice(0, token)].slice(-LOOKS_BACK).reverse(),
    behind: [...shapes.slice(token + 1), ...later],
    roles: before.roles,
  }
}

/** What bears on amounts behind a clause; the roles of its own were added to `before`. */
export const afterClause = (before: AmountsBefore, shapes: readonly string[]): AmountsBefore => ({
  shapes: [...before.shapes, ...shapes].slice(-LOOKS_BACK),
  roles: before.roles.slice(0, ROLES),
})

/** Gives the slot of each word around an amount, of itself and of the amounts before it, and by what it counts. */
export function slotsOfAmount({ amount, before, behind, roles }: AmountContext, give: Give): void {
  give(ownShape(amount), OWN, 1)
  inSlots(give, before, NEAR.before, 0)
  inSlots(give, behind, NEAR.behind, NEAR.before)
  for (let i = 0; i < ROLES && i < roles.length; i++) give(`=${roles[i]}`, FIRST_ROLE + i, 1)
  inHeap(give, before, NEAR.before, LOOKS_BACK, HEAPS, SHARE)
  inHeap(give, behind, NEAR.behind, NEAR.behind + FAR.behind, HEAPS + 1, SHARE)
}

/** The net as `clauses.json` keeps it. */
export interface PackedAmounts {
  readonly fields: string
  readonly net: PackedSlotNet
}

export interface LearnedAmounts {
  readonly fields: readonly string[]
  readonly net: SlotNetNumbers
}

export const unpackAmounts = ({ fields, net }: PackedAmounts): LearnedAmounts => ({
  fields: fields.split(' '),
  net: unpackSlotNet(net),
})

/** Tells of what an amount is one. */
export interface AmountReader {
  /** The fields it may be the value of, likeliest first, with their log odds. */
  likely(context: AmountContext): { readonly field: string; readonly odds: number }[]
}

export function amountReader({ fields, net }: LearnedAmounts): AmountReader {
  const oddsOf = slotNet(net)
  return {
    likely: (context) => {
      const odds = oddsOf((give) => slotsOfAmount(context, give))
      return fields.map((field, i) => ({ field, odds: odds[i]! })).sort((a, b) => b.odds - a.odds)
    },
  }
}
