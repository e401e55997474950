import { unpackWeights } from '../hives/score.ts'
import { readAmount } from '../language/amounts.ts'
import type { Fitted } from './fitted.ts'

/**
 * The page's stand-in for `fitted/fitted.ts` (put there by the build): what was learned of clauses and calls is fetched when the page
 * is there, so that it does not lengthen the first load. Until it has come, only the lines of the grammar read.
 */
let known: Fitted | null = null
let coming: Promise<boolean> | null = null

export const fitted = (): Fitted | null => known

/** Fetches it, once; false where it is not to be had (no network, and never fetched before). */
export function fetchFitted(): Promise<boolean> {
  coming ??= import('./learned.ts').then(
    (came) => {
      known = {
        borders: came.borderReader(came.borders),
        names: came.nameReader(came.names),
        clauses: came.clauseReader(came.amounts, came.tagger, readAmount),
        hives: {
          weights: unpackWeights(came.fine, 'fine'),
          together: came.together(came.unpackCueNet(came.cues)),
          callNet: came.callNet(came.calls),
          words: came.commonWords(came.words),
        },
      }
      return true
    },
    () => {
      coming = null
      return false
    },
  )
  return coming
}
