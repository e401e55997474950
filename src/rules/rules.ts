import { adultsSick } from './adults-sick.ts'
import { antsMany } from './ants-many.ts'
import { beesCount } from './bees-count.ts'
import { beesEmerging } from './bees-emerging.ts'
import { beetlesMany } from './beetles-many.ts'
import { beetlesRising } from './beetles-rising.ts'
import { boxWanted } from './box-wanted.ts'
import { boxesSpare } from './boxes-spare.ts'
import { broodAiling } from './brood-ailing.ts'
import { broodChilled } from './brood-chilled.ts'
import { broodEmerging } from './brood-emerging.ts'
import { broodSpotty } from './brood-spotty.ts'
import { broodUnbalanced } from './brood-unbalanced.ts'
import { cellsEmergency } from './cells-emergency.ts'
import { colonyCrowded } from './colony-crowded.ts'
import { colonyDead } from './colony-dead.ts'
import { diseaseSuspected } from './disease-suspected.ts'
import { feedWanted } from './feed-wanted.ts'
import { framesMoved } from './frames-moved.ts'
import { honeySpare } from './honey-spare.ts'
import { honeyTakeable } from './honey-takeable.ts'
import { hornetsPresent } from './hornets-present.ts'
import { jobsDue } from './jobs-due.ts'
import { keeperHurt } from './keeper-hurt.ts'
import { layingRate } from './laying-rate.ts'
import { micePresent } from './mice-present.ts'
import { mitesDropping } from './mites-dropping.ts'
import { mitesHigh } from './mites-high.ts'
import { mitesRising } from './mites-rising.ts'
import { moistureLegal } from './moisture-legal.ts'
import { moistureRisky } from './moisture-risky.ts'
import { nestHoneybound } from './nest-honeybound.ts'
import { queenAboveExcluder } from './queen-above-excluder.ts'
import { queenFailing } from './queen-failing.ts'
import { queenMissing } from './queen-missing.ts'
import { recordContradicts } from './record-contradicts.ts'
import { requeenWanted } from './requeen-wanted.ts'
import { robbingOn } from './robbing-on.ts'
import type { Rule } from './rule.ts'
import { sideReady } from './side-ready.ts'
import { splitReady } from './split-ready.ts'
import { storesLight } from './stores-light.ts'
import { storesLow } from './stores-low.ts'
import { storesWeight } from './stores-weight.ts'
import { superReady } from './super-ready.ts'
import { swarmDue } from './swarm-due.ts'
import { swarmPreparing } from './swarm-preparing.ts'
import { temperWorse } from './temper-worse.ts'
import { trapsDue } from './traps-due.ts'
import { treatmentClashes } from './treatment-clashes.ts'
import { treatmentCleared } from './treatment-cleared.ts'
import { treatmentDue } from './treatment-due.ts'
import { treatmentWanted } from './treatment-wanted.ts'
import { uniteReady } from './unite-ready.ts'
import { visitDue } from './visit-due.ts'
import { visitOverdue } from './visit-overdue.ts'
import { waspsMany } from './wasps-many.ts'
import { waxMothPresent } from './wax-moth-present.ts'
import { weatherFit } from './weather-fit.ts'
import { workersLaying } from './workers-laying.ts'
import { youngQueenDue } from './young-queen-due.ts'

/** Every rule, in the order in which equals are told: people first, then what can be lost soonest. */
export const rules: readonly Rule[] = [
  keeperHurt,
  colonyDead,
  diseaseSuspected,
  queenMissing,
  queenFailing,
  workersLaying,
  swarmPreparing,
  cellsEmergency,
  queenAboveExcluder,
  storesLow,
  storesLight,
  robbingOn,
  beetlesMany,
  beetlesRising,
  mitesHigh,
  mitesDropping,
  mitesRising,
  broodUnbalanced,
  broodSpotty,
  broodAiling,
  broodChilled,
  adultsSick,
  nestHoneybound,
  colonyCrowded,
  waxMothPresent,
  hornetsPresent,
  waspsMany,
  micePresent,
  antsMany,
  temperWorse,
  framesMoved,
  treatmentClashes,
  moistureRisky,
  visitOverdue,
  recordContradicts,
  weatherFit,
  sideReady,
  superReady,
  honeySpare,
  treatmentCleared,
  moistureLegal,
  boxWanted,
  boxesSpare,
  splitReady,
  uniteReady,
  requeenWanted,
  treatmentWanted,
  feedWanted,
  visitDue,
  swarmDue,
  youngQueenDue,
  broodEmerging,
  treatmentDue,
  trapsDue,
  jobsDue,
  honeyTakeable,
  storesWeight,
  beesCount,
  beesEmerging,
  layingRate,
]
