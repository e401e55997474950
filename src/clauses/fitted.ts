import fitted from './clauses.json' with { type: 'json' }
import { type ClauseModel, unpackClauses } from './model.ts'

let model: ClauseModel | null = null

/** The model that ships; unpacked when it is asked for first. The page has one of its own, which comes after the page. */
export function fittedClauses(): ClauseModel | null {
  model ??= unpackClauses(fitted)
  return model
}
