import { daysBetween } from './calendar.ts'
import type { HiveView, Placed } from './hive-view.ts'
import { readings, word } from './look.ts'
import { ask } from './questions.ts'
import { type Answer, defineRule, num } from './rule.ts'
import { isAutumn, seasonOf } from './season.ts'
import { stores, winterNeed } from './stores-facts.ts'
import { strength } from './strength-facts.ts'

/** Honey may be ripe and still be the colony's own: what it lives on comes first. */
export const honeySpare = defineRule({
  id: 'honey-spare',
  title: 'Can the colony spare honey?',
  kind: 'ready',
  needs: ['stores.level', 'stores.weight', 'frames.honey', 'population', 'forage', 'did.split', 'sign.swarmed'],
  numbers: {
    keepInSeason: num(5, 'kg', 'common practice', 'stores to leave in the brood nest during the season'),
    restAfterSplit: num(21, 'days', 'common practice', 'how long to leave a colony alone after a split or swarm'),
  },
  sources: ['hooper-five', 'bbka-216', 'moeller-1977'],
  cautions: [],
  judge(hive, n) {
    const refuse = (why: string, restsOn: readonly Placed[]): Answer[] => [
      {
        verdict: 'no',
        what: 'Leave this colony its honey.',
        why,
        next: 'Look at its stores again next visit.',
        restsOn,
      },
    ]
    const level = word(hive, 'stores.level')
    if (level.is === 'none' || level.is === 'low') return refuse(`stores are ${level.is}`, level.by)
    const shrunk = lately(hive, n.restAfterSplit)
    if (shrunk.length > 0) return refuse('it was split or swarmed lately', shrunk)
    const strong = strength(hive)
    if (strong.is === 'weak') return refuse('the colony is weak', strong.by)
    const season = seasonOf(hive.date, hive.settings)
    if (season === 'winter') return refuse('it is winter', [])
    const autumn = isAutumn(hive.date, hive.settings)
    const dearth = word(hive, 'forage')
    const { kg, missing } = stores(hive, true)
    if (dearth.is === 'dearth' && !autumn && !kg) return refuse('there is a dearth', dearth.by)
    if (autumn === undefined)
      return unsure('the season is not known', [ask(hive, hive.date ? 'yard.hemisphere' : 'visit.date')])
    const need = autumn ? winterNeed(hive) : n.keepInSeason
    if (need === undefined) return unsure('how hard the winter is was not set', [ask(hive, 'yard.climate')])
    if (kg) {
      const has = `about ${kg.likely.toFixed(0)} kg in the brood nest, ${need} kg should stay`
      if (kg.low >= need) return accept(has, kg.by)
      if (kg.high < need) return refuse(has, kg.by)
      return unsure(`${has}: too close to say`, [ask(hive, 'stores.weight')], kg.by)
    }
    const plenty = level.is === 'plentiful' || (level.is === 'adequate' && dearth.is !== 'dearth')
    if (!autumn && plenty) return accept(`stores are ${level.is}`, level.by)
    return unsure('the stores in the brood nest were not said', missing)
  },
})

const accept = (why: string, restsOn: readonly Placed[]): Answer[] => [
  { verdict: 'yes', what: 'The colony can spare honey.', why, next: 'Take what is ready and leave the rest.', restsOn },
]
const unsure = (why: string, missing: Answer['missing'] = [], restsOn: readonly Placed[] = []): Answer[] => [
  {
    verdict: 'cannot tell',
    what: 'Whether honey can be spared is open.',
    why,
    next: missing[0]?.ask ?? '',
    restsOn,
    missing,
  },
]

function lately(hive: HiveView, days: number): Placed[] {
  const out: Placed[] = []
  for (const visit of [hive, ...hive.past]) {
    if (visit !== hive && !(visit.date && hive.date && daysBetween(visit.date, hive.date) <= days)) break
    for (const field of ['did.split', 'sign.swarmed'])
      out.push(...readings(visit, field).filter((placed) => placed.value !== 'no' && placed.value !== 0))
  }
  return out
}
