import { broodFrames } from './brood-facts.ts'
import type { HiveView } from './hive-view.ts'
import { amount, type Counted, word } from './look.ts'

/** How strong a colony is; `weak` under 4 combs of bees, `strong` from 8. */
export type Strength = 'weak' | 'medium' | 'strong'

export const isNucleus = (hive: HiveView): boolean => /^(nuc|mating|mini)/.test(hive.label)

/** Combs of bees: counted frames, else seams (a seam full of bees counts as a comb). */
export const beeFrames = (hive: HiveView): Counted | undefined =>
  amount(hive, 'frames.bees') ?? amount(hive, 'seams.bees')

export function strength(hive: HiveView): { is: Strength | undefined; by: Counted['by'] } {
  const said = word(hive, 'population')
  if (said.is === 'weak') return { is: 'weak', by: said.by }
  if (said.is === 'moderate') return { is: 'medium', by: said.by }
  if (said.is === 'strong' || said.is === 'crowded') return { is: 'strong', by: said.by }
  const bees = beeFrames(hive)
  if (bees) return { is: bees.likely < 4 ? 'weak' : bees.likely < 8 ? 'medium' : 'strong', by: bees.by }
  const brood = broodFrames(hive)
  // Common practice: six frames of brood make a strong colony; few brood frames say little out of season.
  if (brood && brood.likely >= 6) return { is: 'strong', by: brood.by }
  return { is: undefined, by: [] }
}
