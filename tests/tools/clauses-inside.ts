/** What learning of clauses sees of the inside. */
export {
  AMOUNT_SLOTS,
  afterClause,
  contextOfAmount,
  shapesOf,
  slotsOfAmount,
} from '../../src/clauses/amount-net.ts'
export { clausesOf, valueSaid } from '../../src/clauses/clause.ts'
export { clauseReader } from '../../src/clauses/reader.ts'
export { packTagger, spokenIn, unpackTagger } from '../../src/clauses/tagger.ts'
export { readAmount } from '../../src/language/amounts.ts'
export { utterancesOf } from '../../src/read.ts'
export { listed, packSlotNet } from '../../src/slot-net.ts'
export { openTranscript } from '../../src/transcript/open.ts'
export { NEWER, phraseLines } from '../phrases.ts'
