import clauses from '../../src/clauses/clauses.json'
import { unpackSenses } from '../../src/clauses/reader.ts'
import calls from '../../src/hives/call-net.json'
import fine from '../../src/hives/fine-weights.json'
import { unpackWeights } from '../../src/hives/score.ts'
import { unpackSlotNet } from '../../src/slot-net.ts'

/** What was learned, unpacked; the weights of calls as one list, in the order of their names. */
export function learned() {
  const weights = unpackWeights(fine, 'fine')
  return {
    senses: unpackSenses(clauses),
    calls: unpackSlotNet(calls),
    cues: [...weights.keys()].join('\n'),
    worth: Float64Array.from([...weights.values()].flat()),
  }
}
