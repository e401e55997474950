import { ask } from './questions.ts'
import { defineRule, known, num } from './rule.ts'
import { isAutumn } from './season.ts'
import { stores, winterNeed } from './stores-facts.ts'

/** Too light for winter. How much is enough hangs on the climate and is never guessed. */
export const storesLight = defineRule({
  id: 'stores-light',
  title: 'Too light for winter?',
  kind: 'alarm',
  needs: ['stores.weight', 'frames.honey'],
  numbers: {
    halfway: num(50, 'percent', 'common practice', 'below this share of the need it cannot be left to chance'),
    mild: num(15, 'kg', 'common practice', 'stores for a mild winter'),
    temperate: known(20, 'kg', 'bbka-216', 'stores for a British winter on one brood box; 25 on more'),
    cold: num(40, 'kg', 'moeller-1977', 'stores for a cold continental winter (Wisconsin: 90 lb)'),
  },
  sources: ['bbka-216', 'moeller-1977'],
  cautions: ['lifting'],
  judge(hive, n) {
    const autumn = isAutumn(hive.date, hive.settings)
    if (autumn === false)
      return [{ verdict: 'none', what: 'Not the time to weigh for winter.', why: 'by the date of the visit' }]
    const { climate, winterStoresKg } = hive.settings
    const byClimate = climate === 'mild' ? n.mild : climate === 'cold' ? n.cold : undefined
    const need = winterStoresKg ?? byClimate ?? winterNeed(hive)
    const { kg, missing } = stores(hive)
    const asks = [
      ...(autumn === undefined ? [ask(hive, hive.date ? 'yard.hemisphere' : 'visit.date', 'optional')] : []),
      ...(need === undefined ? [ask(hive, 'yard.climate', 'optional')] : []),
      ...(kg ? [] : missing.map((one) => ({ ...one, priority: 'soon' as const }))),
    ]
    if (!kg || need === undefined || autumn === undefined)
      return [
        {
          verdict: 'cannot tell',
          what: 'Whether it is heavy enough for winter is open.',
          why: 'season, climate or stores are not known',
          restsOn: kg?.by ?? [],
          missing: asks,
        },
      ]
    const why = `about ${kg.likely.toFixed(0)} kg of ${need} kg`
    const short = need - kg.likely
    const next = `Feed thick syrup (2 kg sugar to 1 litre water) early: about ${short.toFixed(0)} kg of stores are short.`
    if (kg.likely < (need * n.halfway) / 100)
      return [{ verdict: 'urgent', what: 'Far too light for winter.', why, next, restsOn: kg.by }]
    if (kg.high < need) return [{ verdict: 'act', what: 'Too light for winter.', why, next, restsOn: kg.by }]
    if (kg.low < need)
      return [{ verdict: 'watch', what: 'Perhaps too light for winter.', why, next: 'Weigh it.', restsOn: kg.by }]
    return [{ verdict: 'none', what: 'Heavy enough for winter.', why, restsOn: kg.by }]
  },
})
