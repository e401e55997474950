// Packs the weights of calls (src/hives/weights.json): its names as sorted words are packed, what they weigh beside them.
import { readFileSync } from 'node:fs'
import { isDeepStrictEqual } from 'node:util'
import { frontCoded } from './compact-words.mjs'
import { unpackWeights } from './unpack-weights.mjs'

/** What `unpackWeights` takes. Throws where it would not give back the very same weights. */
export function packWeights(path) {
  const weights = JSON.parse(readFileSync(path, 'utf8'))
  const names = Object.keys(weights).sort()
  const packed = [frontCoded(names), names.map((name) => weights[name]).join(' ')]
  if (!isDeepStrictEqual(unpackWeights(packed), weights)) throw new Error(`${path} does not come back as it was`)
  return packed
}
