/** What fitting the clause model sees of the inside. */
export {
  AMOUNT_SLOTS,
  afterClause,
  contextOfAmount,
  shapesOf,
  slotsOfAmount,
} from '../../src/clauses/amount-net.ts'
export { clausesOf, valueSaid } from '../../src/clauses/clause.ts'
export { BEFORE, cuesOf } from '../../src/clauses/cues.ts'
export { oddsOf, packClauses, unpackClauses } from '../../src/clauses/model.ts'
export { LONGEST, packNet } from '../../src/clauses/net.ts'
export { clauseReader } from '../../src/clauses/reader.ts'
export { packTagger, spokenIn, unpackTagger } from '../../src/clauses/tagger.ts'
export { english } from '../../src/grammar/english.ts'
export { readAmount } from '../../src/language/amounts.ts'
export { splitUtterances } from '../../src/language/utterances.ts'
export { readNote } from '../../src/read-note.ts'
export { flatten, placedReadings } from '../../src/record/schema.ts'
export { listed, packSlotNet } from '../../src/slot-net.ts'
export { openTranscript } from '../../src/transcript/open.ts'
export { phraseLines } from '../phrases.ts'
