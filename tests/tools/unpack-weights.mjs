// The page's half of compact-weights.mjs.
import { wordsOf } from './unpack-words.mjs'

/** What each name weighs. */
export function unpackWeights([names, values]) {
  const all = values.split(' ')
  return Object.fromEntries(wordsOf(names).map((name, i) => [name, all[i]]))
}
