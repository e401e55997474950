import type { Placed } from './hive-view.ts'
import { readings, word } from './look.ts'
import { ask } from './questions.ts'
import { type Answer, defineRule, num } from './rule.ts'
import { isAutumn, seasonOf } from './season.ts'
import { stores, winterNeed } from './stores-facts.ts'
import { supersOn } from './treatment-facts.ts'

/** Feed, what, and when not: never syrup under a super that will be harvested, nor honey of unknown hives. */
export const feedWanted = defineRule({
  id: 'feed-wanted',
  title: 'Feed this colony?',
  kind: 'ready',
  needs: ['stores.level', 'stores.weight', 'frames.honey', 'forage', 'boxes.super', 'weather.temperature', 'did.feed'],
  numbers: {
    hunger: num(5, 'kg', 'common practice', 'stores below which a colony is fed in season'),
    tooCold: num(10, 'C', 'common practice', 'below this bees do not take syrup: fondant'),
  },
  sources: ['nbu-feeding', 'moeller-1977', 'trunch-feeding', 'nbu-fondant', 'burgh-feeding'],
  cautions: [],
  judge(hive, n) {
    const level = word(hive, 'stores.level')
    const { kg, missing } = stores(hive)
    const autumn = isAutumn(hive.date, hive.settings)
    const season = seasonOf(hive.date, hive.settings)
    const need = autumn ? winterNeed(hive) : n.hunger
    const flow = word(hive, 'forage')
    const warm = word(hive, 'weather.temperature')
    const fed = readings(hive, 'did.feed').filter((placed) => placed.value !== 'no' && placed.value !== 0)
    const restsOn = [...level.by, ...(kg?.by ?? [])]
    const low = level.is === 'none' || level.is === 'low'
    const short = kg && need !== undefined ? (kg.likely < need ? true : kg.low >= need ? false : undefined) : undefined
    if (low || short) {
      const why = low ? `stores are ${level.is}` : `about ${kg!.likely.toFixed(0)} kg of ${need} kg`
      if (fed.length > 0) return no('They were fed in this visit.', why, [...restsOn, ...fed])
      if (supersOn(hive).is)
        return yes(
          'Feed, but not under the supers.',
          why,
          'Take the supers off or give them a frame of their own honey; no syrup under supers for harvest.',
          restsOn,
        )
      const cold = warm.is === undefined ? season === 'winter' : Number(warm.is) < n.tooCold
      const kind = cold
        ? 'Give fondant right over the cluster: it is too cold for syrup.'
        : autumn
          ? 'Give thick syrup, 2 kg of white sugar to 1 litre of water, in the evening and with a narrow entrance.'
          : 'Give thin syrup, 1 kg of white sugar to 1 litre of water, in the evening and with a narrow entrance.'
      return yes('Feed them.', why, `${kind} No honey from other hives.`, restsOn)
    }
    if (flow.is === 'flow' && (level.is || kg))
      return no('Do not feed.', 'they have stores and there is a flow', [...restsOn, ...flow.by])
    if (short === false)
      return no('No feed needed.', `about ${kg!.likely.toFixed(0)} kg, ${need} kg is enough`, restsOn)
    if (level.is === 'plentiful' || (level.is === 'adequate' && autumn === false))
      return no('No feed needed.', `stores are ${level.is}`, restsOn)
    const asks =
      level.is || kg
        ? [ask(hive, autumn === undefined ? 'yard.hemisphere' : need === undefined ? 'yard.climate' : 'stores.weight')]
        : missing
    return [
      {
        verdict: 'cannot tell',
        what: 'Whether to feed is open.',
        why: 'stores were not said well enough',
        next: asks[0]?.ask ?? '',
        restsOn,
        missing: asks.length > 0 ? asks : [ask(hive, 'stores.level')],
      },
    ]
  },
})

const yes = (what: string, why: string, next: string, restsOn: readonly Placed[]): Answer[] => [
  { verdict: 'yes', what, why, next, restsOn },
]
const no = (what: string, why: string, restsOn: readonly Placed[]): Answer[] => [{ verdict: 'no', what, why, restsOn }]
