import type { Amount } from '../language/amounts.ts'

/** A fraction or percentage as 0..100. */
export function percentOf(amount: Amount): number | [number, number] {
  const one = (x: number): number => (amount.kind === 'fraction' && x <= 1 ? Math.round(x * 100) : x)
  return amount.hi > amount.lo ? [one(amount.lo), one(amount.hi)] : one(amount.lo)
}

export const isShare = (amount: Amount): boolean =>
  amount.percent ||
  (amount.kind === 'fraction' && amount.hi <= 1) ||
  (amount.kind === 'integer' && (amount.lo >= 20 || amount.lo === 10 || amount.lo === 15) && amount.hi <= 100)
