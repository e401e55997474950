/** What the bench sees of the inside. */
export { createVisit } from '../../src/live/visit.ts'
export { createReader, utterancesOf } from '../../src/read.ts'
export { readNote } from '../../src/read-note.ts'
export { judge } from '../../src/rules/judge.ts'
export { openTranscript } from '../../src/transcript/open.ts'
