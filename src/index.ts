/** Combscribe as a library: the same code in Node and in a browser. */
export { CombscribeError, type ErrorCode } from './errors.ts'
export type { Answer } from './live/answer.ts'
export { createVisit, type Visit, type VisitOptions } from './live/visit.ts'
export { createReader, grammarFor, type Reader, type ReadOptions, utterancesOf, type YardHints } from './read.ts'
export { readNote } from './read-note.ts'
export {
  type FlatReading,
  flatten,
  type InspectionRecord,
  placedReadings,
  type Reading,
  recordSchema,
  type Value,
} from './record/schema.ts'
export { openTranscript } from './transcript/open.ts'
export type { Transcript } from './transcript/transcript.ts'
