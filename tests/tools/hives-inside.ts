/** What fitting the hive follower sees of the inside. */
import { fitted } from '../../src/fitted/fitted.ts'
import { english, englishVocabulary } from '../../src/grammar/english.ts'
import { REACH } from '../../src/hives/call-net.ts'
import { aroundCall, spokenOf } from '../../src/hives/context.ts'
import { createFollower } from '../../src/hives/follower.ts'
import { gatherNames, newEvidence, wholeNote } from '../../src/hives/names.ts'
import { nameReader } from '../../src/language/name-net.ts'
import type { NameReader } from '../../src/language/named.ts'
import { splitUtterances } from '../../src/language/utterances.ts'
import { openTranscript } from '../../src/transcript/open.ts'
import type { Transcript } from '../../src/transcript/transcript.ts'

export { CALL_SLOTS, callNet, slotsOfCall } from '../../src/hives/call-net.ts'
export { commonWords, cuesOfWords, packCommonWords, stepOf } from '../../src/hives/common-words.ts'
export { cuesOfOdds } from '../../src/hives/context.ts'
export { packCueNet, together } from '../../src/hives/cue-net.ts'
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
export { addTop, cuesOfTop, newTops } from '../../src/hives/tops.ts'
export { wholeSteps } from '../../src/hives/whole-steps.ts'
export { readNote } from '../../src/read-note.ts'
export { flatten, placedReadings } from '../../src/record/schema.ts'
export { listed, packSlotNet } from '../../src/slot-net.ts'
export { phraseLines } from '../phrases.ts'
export { nameReader, openTranscript }

const transcriptOf = (input: string | Transcript): Transcript =>
  typeof input === 'string' ? openTranscript(input, 'note') : input
const utterancesOf = (transcript: Transcript, namer?: NameReader) => {
  const learned = fitted()!
  return splitUtterances(transcript, english(), { ...learned, names: namer ?? learned.names }).filter(
    ({ suspect }) => !suspect,
  )
}

/**
 * The text of a note and all that may call a hive in it, without what the net of calls makes of them, and what stands around
 * each; `names` as a yard file would give them; `namer` instead of the one that ships.
 */
export function callsIn(input: string | Transcript, names: readonly string[] = [], namer?: NameReader) {
  const transcript = transcriptOf(input)
  const grammar = english()
  const utterances = utterancesOf(transcript, namer)
  const evidence = newEvidence()
  const follower = createFollower(grammar, new Map(names.map((name) => [name, name])))
  for (const utterance of utterances) {
    gatherNames(evidence, utterance, englishVocabulary())
    follower.hear(utterance)
  }
  const note = wholeNote(evidence)
  const spoken = utterances.flatMap(({ words }) => spokenOf(words))
  const calls = follower.weighed(note)
  const around = calls.map(({ call, word }) => aroundCall(call, word, spoken, REACH).context)
  return { text: transcript.text, calls, around, told: () => follower.whole(note).calls }
}

/** Where the utterances of a note begin. */
export const startsIn = (input: string | Transcript): number[] =>
  utterancesOf(transcriptOf(input)).map(({ start }) => start)

/** What was heard between two places of a note. */
export function cutOut(input: string | Transcript, from: number, to: number): Transcript {
  const { words, segments, text, ...rest } = transcriptOf(input)
  const within = <T extends { readonly start: number; readonly end: number }>(list: readonly T[]): T[] =>
    list
      .filter(({ start, end }) => end > from && start < to)
      .map((one) => ({ ...one, start: Math.max(0, one.start - from), end: Math.min(to, one.end) - from }))
  return {
    ...rest,
    text: text.slice(from, to),
    segments: within(segments),
    ...(words ? { words: within(words) } : {}),
  }
}

/** Every call of a note that is taken or left, and what it is worth there. */
export const tell = (input: string | Transcript, names: readonly string[] = []) => callsIn(input, names).told()
export { unpackCueNet } from '../../src/hives/cue-net.ts'
