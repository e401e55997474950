// The page's half of compact-weights.mjs.
import { wordsOf } from './unpack-words.mjs'

/** Weights by `kind|cue`. */
export function unpackWeights([kinds, cues, rows]) {
  const weights = {}
  const all = rows.split(' ')
  wordsOf(cues).forEach((cue, i) => {
    all[i].split(',').forEach((hundredths, k) => {
      if (hundredths !== '') weights[`${kinds[k]}|${cue}`] = hundredths / 100
    })
  })
  return weights
}
