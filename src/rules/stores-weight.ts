import { inBothUnits } from './honey-takeable.ts'
import { ask } from './questions.ts'
import { defineRule, num } from './rule.ts'
import { isAutumn } from './season.ts'
import { stores, winterNeed } from './stores-facts.ts'

export const storesWeight = defineRule({
  id: 'stores-weight',
  title: 'How much stores against what is needed?',
  kind: 'howMuch',
  needs: ['stores.weight', 'frames.honey'],
  numbers: { inSeason: num(5, 'kg', 'common practice', 'to leave in season') },
  sources: ['bbka-216', 'moeller-1977', 'frame-building'],
  cautions: [],
  judge(hive, n) {
    const { kg, missing } = stores(hive)
    if (!kg)
      return [
        {
          verdict: 'cannot tell',
          what: 'The weight of stores is open.',
          why: 'frames of honey, frame size or weight are missing',
          missing:
            missing.length > 0
              ? missing.map((one) => ({ ...one, priority: 'optional' as const }))
              : [ask(hive, 'stores.weight', 'optional')],
        },
      ]
    if (kg.high === 0) return [{ verdict: 'nothing to count', what: 'No stores.', why: 'said so', restsOn: kg.by }]
    const autumn = isAutumn(hive.date, hive.settings)
    const need = autumn ? winterNeed(hive) : n.inSeason
    const against =
      need === undefined
        ? 'how much winter needs hangs on the climate, which is not set'
        : `${need} kg ${autumn ? 'for winter' : 'to leave in season'}`
    const amounts = inBothUnits('stores', kg.low, kg.likely, kg.high)
    if (need !== undefined) amounts.push(...inBothUnits('needed', need, need, need))
    return [
      {
        verdict: 'estimated',
        what: `About ${kg.likely.toFixed(0)} kg of stores.`,
        why: against,
        restsOn: kg.by,
        amounts,
        missing: need === undefined ? [ask(hive, 'yard.climate', 'optional')] : [],
      },
    ]
  },
})
