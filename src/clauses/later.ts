import { readAmount } from '../language/amounts.ts'
import type { ClauseReader } from './reader.ts'

/**
 * The page's stand-in for `clauses/fitted.ts` (put there by the build): how clauses are read is fetched when the page is there, so
 * that it does not lengthen the first load. Until it has come, only the lines of the grammar read.
 */
let reader: ClauseReader | null = null
let coming: Promise<boolean> | null = null

export const fittedClauses = (): ClauseReader | null => reader

/** Fetches it, once; false where it is not to be had (no network, and never fetched before). */
export function fetchClauses(): Promise<boolean> {
  coming ??= import('./clauses.ts').then(
    ({ clauseReader, packed }) => {
      reader = clauseReader(packed, readAmount)
      return true
    },
    () => {
      coming = null
      return false
    },
  )
  return coming
}
