/** What fitting the hive follower sees of the inside. */
import { english, englishVocabulary } from '../../src/grammar/english.ts'
import { createFollower } from '../../src/hives/follower.ts'
import { gatherNames, newEvidence, wholeNote } from '../../src/hives/names.ts'
import { splitUtterances } from '../../src/language/utterances.ts'
import { openTranscript } from '../../src/transcript/open.ts'
import type { Transcript } from '../../src/transcript/transcript.ts'

export { follow, goesTo, START } from '../../src/hives/follow.ts'
export {
  cuesOfStep,
  HOW,
  howTaken,
  packWeights,
  runAfter,
  STEP_CUES,
  scorerOf,
  stepTaken,
  unpackWeights,
  worthIn,
} from '../../src/hives/score.ts'
export { readNote } from '../../src/read-note.ts'
export { flatten, placedReadings } from '../../src/record/schema.ts'
export { phraseLines } from '../phrases.ts'
export { openTranscript }

/** The text of a note and all that may call a hive in it; `names` as a yard file would give them. */
export function callsIn(input: string | Transcript, names: readonly string[] = []) {
  const transcript = typeof input === 'string' ? openTranscript(input, 'note') : input
  const grammar = english()
  const utterances = splitUtterances(transcript, grammar).filter(({ suspect }) => !suspect)
  const evidence = newEvidence()
  const follower = createFollower(grammar, new Map(names.map((name) => [name, name])))
  for (const utterance of utterances) {
    gatherNames(evidence, utterance, englishVocabulary())
    follower.hear(utterance)
  }
  const note = wholeNote(evidence)
  return { text: transcript.text, calls: follower.weighed(note), told: () => follower.whole(note).calls }
}

/** Every call of a note that is taken or left, and what it is worth there. */
export const tell = (input: string | Transcript, names: readonly string[] = []) => callsIn(input, names).told()
