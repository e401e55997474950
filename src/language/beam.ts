/** A way in which the words up to some place may have been meant. */
export interface Hypothesis<Edit> {
  /** The last two words, by their numbers (`usage.ts`). */
  readonly further: number
  readonly before: number
  readonly score: number
  readonly back: Hypothesis<Edit> | undefined
  /** What was put right to get here. */
  readonly edit: Edit | undefined
}

/** The likeliest ways up to one place, the best first; of those with the same last two words only the best is kept. */
export class Beam<Edit> {
  readonly ways: Hypothesis<Edit>[] = []
  private readonly most: number

  constructor(most: number) {
    this.most = most
  }

  /** Whether a way with at best such a score could come in. */
  mayTake(score: number): boolean {
    const { ways, most } = this
    return ways.length < most || score > ways[most - 1]!.score
  }

  /** Takes a way in, if it is among the best; of two that are as good, the first. */
  take(
    further: number,
    before: number,
    score: number,
    back: Hypothesis<Edit> | undefined,
    edit: Edit | undefined,
  ): void {
    if (!this.mayTake(score)) return
    const { ways } = this
    let at = ways.length
    while (at > 0 && ways[at - 1]!.score < score) at--
    for (let i = 0; i < at; i++) if (ways[i]!.before === before && ways[i]!.further === further) return
    ways.splice(at, 0, { further, before, score, back, edit })
    for (let i = at + 1; i < ways.length; i++)
      if (ways[i]!.before === before && ways[i]!.further === further) {
        ways.splice(i, 1)
        return
      }
    if (ways.length > this.most) ways.pop()
  }
}
