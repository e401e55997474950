import type { Entry } from '../grammar/grammar.ts'
import type { Give } from '../grammar/line.ts'
import type { ClassLookup } from '../grammar/match.ts'
import { Break, type Word } from '../language/word.ts'
import type { Candidate } from './candidates.ts'

/** The words of an utterance, to be gone over clause by clause by whoever knows how a clause of some kind is built. */
export class ClauseWords {
  protected readonly words: readonly Word[]
  protected readonly lookup: ClassLookup

  constructor(words: readonly Word[], lookup: ClassLookup) {
    this.words = words
    this.lookup = lookup
  }

  protected readonly norm = (at: number): string => this.words[at]?.norm ?? ''

  /** Past the fill words of a clause. */
  protected over(at: number): number {
    let i = at
    while (i < this.words.length && this.words[i]!.filler && this.words[i]!.brk < Break.soft) i++
    return i
  }

  /** Whether there is a word and no mark stands before it. */
  protected inClause(at: number): boolean {
    const word = this.words[at]
    return word !== undefined && word.brk < Break.soft
  }

  /** What a line gives for the words `from..end`, which its own pattern covers only a part of. */
  protected candidate(
    { id, line, pattern, order }: Entry,
    from: number,
    end: number,
    captures: Candidate['match']['captures'],
    gives: readonly Give[],
  ): Candidate {
    const entry: Entry = { id, line, pattern, order, gives, unless: [], near: [], before: undefined, after: undefined }
    const taken = this.words.slice(from, end).filter((word) => !word.filler).length
    return { from, end, entry, match: { end, captures, taken } }
  }
}
