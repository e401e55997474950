import type { Amount } from '../language/amounts.ts'
import type { Word } from '../language/word.ts'

/** Reads an amount at a place in a list of words (`language/amounts.ts`). */
export type ReadAmount = (words: readonly Word[], at: number) => Amount | undefined

/** What is said between two borders, as it is weighed as a whole. */
export interface Clause {
  /** Word indices in the utterance, `to` exclusive. */
  readonly from: number
  readonly to: number
  /** The words, fill words left out, each amount as one token of its sort (`<n>`, `<f>`, `<pct>`, `<r>`, `<0>`). */
  readonly tokens: readonly string[]
  /** Word indices of each token, the end exclusive. */
  readonly spans: readonly (readonly [number, number])[]
  readonly amounts: readonly { readonly amount: Amount; readonly token: number }[]
}

/** What was said and read before an amount or a clause, as far as it bears on amounts. */
export interface AmountsBefore {
  /** The last words, the newest last. */
  readonly shapes: readonly string[]
  /** What the last amounts were read as, the newest first. */
  readonly roles: readonly string[]
}

/** The clauses of an utterance, in order. */
export function clausesOf(words: readonly Word[], readAmount: ReadAmount): Clause[] {
  const out: Clause[] = []
  for (let from = 0; from < words.length; ) {
    let to = from + 1
    // `Break.none`: with the enum itself the page would have to be cut in pieces (`fitted/later.ts`)
    while (to < words.length && words[to]!.brk <= 0) to++
    const clause = clauseOf(words, from, to, readAmount)
    if (clause.tokens.length > 0) out.push(clause)
    from = to
  }
  return out
}

function clauseOf(words: readonly Word[], from: number, to: number, readAmount: ReadAmount): Clause {
  const tokens: string[] = []
  const spans: [number, number][] = []
  const amounts: { amount: Amount; token: number }[] = []
  for (let i = from; i < to; ) {
    const { norm, filler } = words[i]!
    if (filler || norm === '') {
      i++
      continue
    }
    const amount = amountAt(words, i, to, readAmount)
    const end = amount?.end ?? i + 1
    if (amount) amounts.push({ amount, token: tokens.length })
    tokens.push(amount ? sortOf(amount) : norm)
    spans.push([i, end])
    i = end
  }
  return { from, to, tokens, spans, amounts }
}

/** An amount that was said as one; "a", and "for" that may be four, stay words. */
function amountAt(words: readonly Word[], at: number, to: number, readAmount: ReadAmount): Amount | undefined {
  const amount = /^an?$/.test(words[at]!.norm) ? undefined : readAmount(words, at)
  return amount && amount.end <= to && !amount.homophone ? amount : undefined
}

/** An amount as one token. */
export function sortOf({ lo, hi, percent }: Amount): string {
  if (percent) return '<pct>'
  if (lo !== hi) return '<r>'
  return Number.isInteger(lo) ? (lo === 0 ? '<0>' : '<n>') : '<f>'
}

const SHARE = /^(honey|comb|brood)\./

/** An amount as the value of a field: shares of a face are percentages. */
export function valueSaid(field: string, { lo, hi, percent }: Amount): number | [number, number] {
  const size = (x: number): number => (SHARE.test(field) && !percent && hi <= 1 ? Math.round(100 * x) : x)
  return lo === hi ? size(lo) : [size(lo), size(hi)]
}
