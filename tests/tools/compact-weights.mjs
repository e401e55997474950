// Packs the weights of calls (src/hives/weights.json, `kind|cue`): each cue is spelled once, its weights stand in columns.
import { readFileSync } from 'node:fs'
import { isDeepStrictEqual } from 'node:util'
import { frontCoded } from './compact-words.mjs'
import { unpackWeights } from './unpack-weights.mjs'

/** What `unpackWeights` takes. Throws where it would not give back the very same weights. */
export function packWeights(path) {
  const weights = JSON.parse(readFileSync(path, 'utf8'))
  const parted = Object.keys(weights).map((key) => [key.slice(0, key.indexOf('|')), key.slice(key.indexOf('|') + 1)])
  const kinds = [...new Set(parted.map(([kind]) => kind))]
  const cues = [...new Set(parted.map(([, cue]) => cue))].sort()
  const hundredths = (key) => (key in weights ? Math.round(weights[key] * 100) : '')
  const rows = cues.map((cue) => kinds.map((kind) => hundredths(`${kind}|${cue}`)).join(','))
  const packed = [kinds, frontCoded(cues), rows.map((row) => row.replace(/,+$/, '')).join(' ')]
  if (!isDeepStrictEqual(unpackWeights(packed), weights)) throw new Error(`${path} does not come back as it was`)
  return packed
}
