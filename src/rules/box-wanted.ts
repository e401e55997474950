import { broodFrames } from './brood-facts.ts'
import { hasGraveSigns } from './disease-facts.ts'
import type { HiveView, Placed } from './hive-view.ts'
import { amount, amountIn, isSuper, says, word } from './look.ts'
import { ask } from './questions.ts'
import { type Answer, defineRule, num } from './rule.ts'
import { seasonOf } from './season.ts'
import { beeFrames, strength } from './strength-facts.ts'
import { supersOn } from './treatment-facts.ts'

/** Room before they need it: bees that are short of it swarm. */
export const boxWanted = defineRule({
  id: 'box-wanted',
  title: 'Add a box?',
  kind: 'ready',
  needs: ['frames.bees', 'frames.total', 'frames.brood', 'frames.honey', 'population', 'sign.backfilled', 'forage'],
  numbers: {
    occupied: num(
      70,
      'percent',
      'wisconsin-supers',
      'combs of the top box in use before another goes on (7 of 10, 8 of 11)',
    ),
    superFull: num(50, 'percent', 'countryfields-supers', 'how full the last super is when the next goes on'),
    broodCombs: num(6, 'frames', 'norfolk-supers', 'combs of brood at which a first super goes on'),
  },
  sources: ['norfolk-supers', 'wisconsin-supers', 'countryfields-supers'],
  cautions: ['lifting'],
  judge(hive, n) {
    const given = says(hive, 'did.addBox')
    if (given.is === true || (amount(hive, 'did.addBox')?.low ?? 0) > 0)
      return no('a box was added in this visit', given.by)
    if (hasGraveSigns(hive)) return no('there are signs of brood disease', [])
    const forage = word(hive, 'forage')
    if (forage.is === 'dearth') return no('there is a dearth', forage.by)
    if (forage.is !== 'flow' && seasonOf(hive.date, hive.settings) === 'winter') return no('it is winter', [])
    const strong = strength(hive)
    if (strong.is === 'weak') return no('the colony is weak', strong.by)
    const crowded = word(hive, 'population')
    if (crowded.is === 'crowded') return yes('the colony is crowded', crowded.by)
    const backfilled = says(hive, 'sign.backfilled')
    if (backfilled.is) return yes('they put nectar where brood should be', backfilled.by)
    const top = hive.boxes.at(-1)
    const share = top ? filled(hive, top) : hiveShare(hive)
    if (share) {
      const wanted = share.honey ? n.superFull : n.occupied
      const why = `${share.percent.toFixed(0)} % of the top box is in use, ${wanted} % calls for another`
      return share.percent >= wanted ? yes(why, share.by) : no(why, share.by)
    }
    const brood = broodFrames(hive)
    const supers = supersOn(hive)
    if (brood && supers.is === false && brood.low >= n.broodCombs)
      return yes(`there are ${brood.likely} frames of brood and no super`, [...brood.by, ...supers.by])
    return [
      {
        verdict: 'cannot tell',
        what: 'Whether they need another box is open.',
        why: 'how much of the top box is in use was not said',
        missing: [
          ask(hive, 'frames.bees'),
          ask(hive, supers.is === undefined ? 'boxes.super' : 'frames.total', 'optional'),
        ],
        restsOn: [...(brood?.by ?? []), ...supers.by],
      },
    ]
  },
})

const yes = (why: string, restsOn: readonly Placed[]): Answer[] => [
  {
    verdict: 'yes',
    what: 'Add a box.',
    why,
    next: 'Put on a box of drawn comb if you have one; look for queen cells.',
    restsOn,
  },
]
const no = (why: string, restsOn: readonly Placed[]): Answer[] => [
  { verdict: 'no', what: 'No further box now.', why, restsOn },
]

interface Share {
  percent: number
  honey: boolean
  by: readonly Placed[]
}

function filled(hive: HiveView, box: string): Share | undefined {
  const total = amountIn(hive, 'frames.total', box)
  const frames = total?.likely ?? hive.settings.equipmentOf(hive.label).framesPerBox
  if (!frames) return undefined
  const bees = amountIn(hive, 'frames.bees', box)
  const honey = isSuper(box) ? amountIn(hive, 'frames.honey', box) : undefined
  const used = bees ?? honey
  if (!used) return undefined
  return { percent: (used.likely / frames) * 100, honey: !bees, by: [...used.by, ...(total?.by ?? [])] }
}

function hiveShare(hive: HiveView): Share | undefined {
  const bees = beeFrames(hive)
  const total = amount(hive, 'frames.total')
  const perBox = hive.settings.equipmentOf(hive.label).framesPerBox
  const boxes = (amount(hive, 'boxes.brood')?.likely ?? 1) + (amount(hive, 'boxes.super')?.likely ?? 0)
  const frames = total?.likely ?? (perBox ? perBox * boxes : undefined)
  if (!bees || !frames) return undefined
  return { percent: (bees.likely / frames) * 100, honey: false, by: [...bees.by, ...(total?.by ?? [])] }
}
