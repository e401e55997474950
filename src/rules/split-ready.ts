import { broodFacts, broodFrames } from './brood-facts.ts'
import { hasGraveSigns } from './disease-facts.ts'
import type { Placed } from './hive-view.ts'
import { readings, word } from './look.ts'
import { miteRate } from './mite-facts.ts'
import { miteThreshold } from './mite-thresholds.ts'
import { ask } from './questions.ts'
import { type Answer, defineRule, num } from './rule.ts'
import { seasonOf } from './season.ts'
import { beeFrames } from './strength-facts.ts'

export const splitReady = defineRule({
  id: 'split-ready',
  title: 'Strong enough to split?',
  kind: 'ready',
  needs: ['frames.brood', 'frames.bees', 'stores.level', 'mites.count', 'eggs.present'],
  numbers: {
    broodCombs: num(4, 'frames', 'mountain-splits', 'frames of brood before a split; 5 to 6 is better'),
    beeCombs: num(8, 'frames', 'mountain-splits', 'frames of bees before a split'),
  },
  sources: ['mountain-splits', 'macfawn-splits'],
  cautions: [],
  judge(hive, n) {
    const no = (why: string, restsOn: readonly Placed[] = []): Answer[] => [
      { verdict: 'no', what: 'Do not split it now.', why, restsOn },
    ]
    const done = readings(hive, 'did.split').filter((placed) => placed.value !== 'no' && placed.value !== 0)
    if (done.length > 0) return no('it was split in this visit', done)
    if (hasGraveSigns(hive)) return no('there are signs of brood disease')
    const season = seasonOf(hive.date, hive.settings)
    if (season === 'winter' || season === 'autumn') return no('a new queen would come too late in the year')
    const hungry = word(hive, 'stores.level')
    if (hungry.is === 'none' || hungry.is === 'low') return no(`stores are ${hungry.is}`, hungry.by)
    const mites = miteRate(hive)
    const brood = broodFrames(hive)
    const bees = beeFrames(hive)
    const limit = miteThreshold(season, hive.settings, broodFacts(hive).any.is === false)
    if (mites && mites.rate >= limit.act) return no(`there are ${mites.rate.toFixed(1)} mites per 100 bees`, mites.by)
    if (brood && brood.high < n.broodCombs)
      return no(`${brood.likely} frames of brood, ${n.broodCombs} are wanted`, brood.by)
    if (bees && bees.high < n.beeCombs) return no(`${bees.likely} frames of bees, ${n.beeCombs} are wanted`, bees.by)
    if (brood && bees && brood.low >= n.broodCombs && bees.low >= n.beeCombs && season)
      return [
        {
          verdict: 'yes',
          what: 'Strong enough to split.',
          why: `${brood.likely} frames of brood and ${bees.likely} of bees`,
          next: 'Each part needs at least 2 frames of brood, 1 of stores, and a queen, a cell or eggs.',
          restsOn: [...brood.by, ...bees.by],
        },
      ]
    const missing = []
    if (!brood || brood.low < n.broodCombs) missing.push(ask(hive, 'frames.brood', 'optional'))
    if (!bees || bees.low < n.beeCombs) missing.push(ask(hive, 'frames.bees', 'optional'))
    if (!season) missing.push(ask(hive, hive.date ? 'yard.hemisphere' : 'visit.date', 'optional'))
    const what = 'Whether it is strong enough to split is open.'
    const restsOn = [...(brood?.by ?? []), ...(bees?.by ?? [])]
    return [{ verdict: 'cannot tell', what, why: 'brood, bees or season were not said', restsOn, missing }]
  },
})
