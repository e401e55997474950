import { type ClauseModel, unpackClauses } from '../../clauses/model.ts'

/**
 * The page's stand-in for `clauses/fitted.ts` (put there by the build): the model is fetched when the page is there, so that it does
 * not lengthen the first load. Until it has come, only the lines of the grammar read.
 */
let model: ClauseModel | null = null
let coming: Promise<boolean> | null = null

export const fittedClauses = (): ClauseModel | null => model

/** Fetches the model, once; false where it is not to be had (no network, and never fetched before). */
export function fetchClauses(): Promise<boolean> {
  coming ??= import('../../clauses/clauses.json').then(
    ({ default: packed }) => {
      model = unpackClauses(packed)
      return true
    },
    () => {
      coming = null
      return false
    },
  )
  return coming
}
