import type { CallNet } from './context.ts'
import type { Together, Weights } from './score.ts'

/** What was learned of calls. The page has only the heaviest weights at first, and the rest a little later. */
export interface LearnedOfCalls {
  readonly weights: Weights
  /** What cues are worth together, for cues of steps by their numbers (`cue-net.ts`). */
  together(stepCues: readonly string[]): Together
  readonly callNet: CallNet
  /** The cues that the words of a label give (`common-words.ts`). */
  words(label: string): readonly string[]
}
