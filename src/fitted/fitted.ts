import clauses from '../clauses/clauses.json' with { type: 'json' }
import { type ClauseReader, clauseReader } from '../clauses/reader.ts'
import calls from '../hives/call-net.json' with { type: 'json' }
import { callNet } from '../hives/call-net.ts'
import type { CallNet } from '../hives/context.ts'
import fine from '../hives/fine-weights.json' with { type: 'json' }
import { unpackWeights, type Weights } from '../hives/score.ts'
import { readAmount } from '../language/amounts.ts'

/** What was learned from labelled notes and is too large for the page's first load. */
export interface Fitted {
  readonly clauses: ClauseReader
  readonly calls: CallNet
  /** What calls a hive, as finely as it was learned. */
  readonly hiveWeights: Weights
}

let known: Fitted | null = null

/** What ships; unpacked when it is asked for first. The page has one of its own, which comes after the page. */
export function fitted(): Fitted | null {
  known ??= {
    clauses: clauseReader(clauses, readAmount),
    calls: callNet(calls),
    hiveWeights: unpackWeights(fine, 'fine'),
  }
  return known
}
