import { boxWanted } from './box-wanted.ts'
import { boxesSpare } from './boxes-spare.ts'
import { feedWanted } from './feed-wanted.ts'
import { honeySpare } from './honey-spare.ts'
import { moistureLegal } from './moisture-legal.ts'
import { moistureRisky } from './moisture-risky.ts'
import { requeenWanted } from './requeen-wanted.ts'
import type { Rule } from './rule.ts'
import { sideReady } from './side-ready.ts'
import { splitReady } from './split-ready.ts'
import { superReady } from './super-ready.ts'
import { treatmentCleared } from './treatment-cleared.ts'
import { treatmentWanted } from './treatment-wanted.ts'
import { uniteReady } from './unite-ready.ts'
import { weatherFit } from './weather-fit.ts'

/** Every rule, in the order in which equals are told. */
export const rules: readonly Rule[] = [
  sideReady,
  superReady,
  honeySpare,
  treatmentCleared,
  moistureLegal,
  moistureRisky,
  boxWanted,
  boxesSpare,
  splitReady,
  uniteReady,
  requeenWanted,
  treatmentWanted,
  feedWanted,
  weatherFit,
]
