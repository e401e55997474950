import { says, word } from './look.ts'
import { ask } from './questions.ts'
import { defineRule, num } from './rule.ts'
import { stores } from './stores-facts.ts'

/** Hunger now. A colony that rears brood can starve between two visits. */
export const storesLow = defineRule({
  id: 'stores-low',
  title: 'Is the colony hungry?',
  kind: 'alarm',
  needs: ['stores.level', 'stores.weight', 'frames.honey', 'forage', 'sign.deadBees'],
  numbers: {
    low: num(5, 'kg', 'common practice', 'below this it is short of stores'),
    dry: num(2, 'kg', 'common practice', 'below this it starves within days'),
  },
  sources: ['hooper-five', 'whitstable-2014', 'nbu-feeding'],
  cautions: [],
  judge(hive, n) {
    const level = word(hive, 'stores.level')
    const { kg, missing } = stores(hive)
    const forage = word(hive, 'forage')
    const dead = says(hive, 'sign.deadBees')
    const dearth = forage.is === 'dearth'
    const restsOn = [...level.by, ...(kg?.by ?? []), ...(dearth ? forage.by : []), ...(dead.is ? dead.by : [])]
    const amount = kg ? `about ${kg.likely.toFixed(1)} kg` : ''
    const said = level.is ? `stores are ${level.is}` : ''
    const why = [said, amount, dearth ? 'there is a dearth' : ''].filter(Boolean).join(', ')
    const none = level.is === 'none' || (kg !== undefined && kg.likely < n.dry)
    const low = level.is === 'low' || (kg !== undefined && kg.likely < n.low)
    // A word of low stores beside a weight that is enough is worth a look, not an alarm.
    const weighed = kg !== undefined && kg.low >= n.low
    if (none || (low && !weighed && (dearth || dead.is)))
      return [
        {
          verdict: 'urgent',
          what: 'The colony is starving or near it.',
          why,
          next: 'Feed within 24 hours: syrup if warm, fondant over the cluster if cold.',
          restsOn,
        },
      ]
    if (low)
      return [
        {
          verdict: 'act',
          what: 'Stores are low.',
          why,
          next: 'Feed within days, and not under supers for harvest.',
          restsOn,
        },
      ]
    if (kg && kg.low < n.low)
      return [{ verdict: 'watch', what: 'Stores may be low.', why, next: 'Heft it again within a week.', restsOn }]
    if (dearth && level.is === 'adequate')
      return [
        {
          verdict: 'watch',
          what: 'Stores will not last a dearth for long.',
          why,
          next: 'Heft it again within a week.',
          restsOn,
        },
      ]
    if (level.is || kg) return [{ verdict: 'none', what: 'Enough stores for now.', why, restsOn }]
    return [
      {
        verdict: 'cannot tell',
        what: 'Stores were not spoken of.',
        why: 'neither a word nor frames nor a weight',
        restsOn,
        missing: [ask(hive, 'stores.level', 'first'), ...missing.filter((one) => one.field.startsWith('yard'))],
      },
    ]
  },
})
