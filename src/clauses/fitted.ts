import { readAmount } from '../language/amounts.ts'
import fitted from './clauses.json' with { type: 'json' }
import { type ClauseReader, clauseReader } from './reader.ts'

let reader: ClauseReader | null = null

/** The reader of clauses that ships; unpacked when it is asked for first. The page has one of its own, which comes after the page. */
export function fittedClauses(): ClauseReader | null {
  reader ??= clauseReader(fitted, readAmount)
  return reader
}
