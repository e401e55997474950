import amounts from '../../src/clauses/amounts.json'
import { unpackSenses } from '../../src/clauses/reader.ts'
import tagger from '../../src/clauses/tagger.json'
import calls from '../../src/hives/call-net.json'
import words from '../../src/hives/common-words.json'
import together from '../../src/hives/cue-net.json'
import { unpackCueNet } from '../../src/hives/cue-net.ts'
import fine from '../../src/hives/fine-weights.json'
import { unpackWeights } from '../../src/hives/score.ts'
import borders from '../../src/language/border-net.json'
import names from '../../src/language/name-net.json'
import { unpackTalkNet } from '../../src/language/talk-net.ts'
import { unpackSlotNet } from '../../src/slot-net.ts'

/** What was learned, unpacked; the weights of calls as one list, in the order of their names. Names with blanks have a line each. */
export function learned() {
  const weights = unpackWeights(fine, 'fine')
  const { cues: inNet, ...net } = unpackCueNet(together)
  return {
    borders: unpackTalkNet(borders),
    named: unpackTalkNet(names),
    senses: unpackSenses(amounts, tagger),
    calls: unpackSlotNet(calls),
    cues: [...weights.keys()].join('\n'),
    worth: Float64Array.from([...weights.values()].flat()),
    inNet: [...inNet.keys()].join('\n'),
    net,
    words,
  }
}
