/** What the bench sees of the inside. */
export { createVisit } from '../../src/live/visit.ts'
export { createReader, readNote, utterancesOf } from '../../src/read.ts'
export { judge } from '../../src/rules/judge.ts'
export { openTranscript } from '../../src/transcript/open.ts'
