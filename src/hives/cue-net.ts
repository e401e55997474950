import { packLists, unpackLists } from '../packed-numbers.ts'
import type { Together } from './score.ts'

/**
 * What cues of a call and of the step to it tell together, beside what each tells alone (`score.ts`): "behind the closing of a hive"
 * may count for more where a number goes on from the last, and for nothing where frames are walked. Each cue is a short list of
 * numbers; their sum, where it is above none, counts by the kind of the call. Learned with the weights (`npm run hives`).
 */
export interface CueNet {
  /** The row of each cue; those of calls that it does not have tell it nothing. */
  readonly cues: ReadonlyMap<string, number>
  /** Numbers of a cue. */
  readonly width: number
  /** Cues by their numbers. */
  readonly vectors: Float32Array
  readonly base: Float32Array
  /** Kinds of calls (`HOW`) by what the sum counts. */
  readonly out: Float32Array
}

const LISTS = ['vectors', 'base', 'out'] as const
/** As `cue-net.json` keeps it: names of cues with a line each, since there are blanks in them. */
export type PackedCueNet = Readonly<Record<'cues' | (typeof LISTS)[number], string>>

export const packCueNet = (net: CueNet): PackedCueNet => ({
  cues: [...net.cues.keys()].join('\n'),
  ...packLists(LISTS, net),
})

export function unpackCueNet({ cues, ...lists }: PackedCueNet): CueNet {
  const unpacked = unpackLists(LISTS, lists)
  return {
    cues: new Map(cues.split('\n').map((cue, i) => [cue, i])),
    width: unpacked.base.length,
    ...unpacked,
  }
}

/** Reckons with a net, for cues of a step by their numbers. */
export const together =
  (net: CueNet) =>
  (stepCues: readonly string[]): Together =>
    reckoning(net, stepCues)

function reckoning({ cues, width, vectors, base, out }: CueNet, stepCues: readonly string[]): Together {
  const ofStep = new Float32Array(stepCues.length * width)
  stepCues.forEach((cue, i) => {
    const row = cues.get(cue)
    if (row !== undefined) ofStep.set(vectors.subarray(row * width, (row + 1) * width), i * width)
  })
  const all = new Float32Array(width)
  return {
    sum(own) {
      const sum = base.slice()
      for (const cue of own) {
        const row = cues.get(cue)
        if (row === undefined) continue
        for (let h = 0, at = row * width; h < width; h++, at++) sum[h]! += vectors[at]!
      }
      return sum
    },
    worth(sum, taken, steps) {
      all.set(sum)
      for (let i = 0; i < steps.length; i++)
        for (let h = 0, at = steps[i]! * width; h < width; h++, at++) all[h]! += ofStep[at]!
      let worth = 0
      for (let h = 0, at = taken * width; h < width; h++, at++) if (all[h]! > 0) worth += all[h]! * out[at]!
      return worth
    },
  }
}
