import { amount, word } from './look.ts'
import { ask } from './questions.ts'
import { defineRule, num } from './rule.ts'

export const weatherFit = defineRule({
  id: 'weather-fit',
  title: 'Weather fit for opening brood?',
  kind: 'ready',
  wholeVisit: true,
  needs: ['weather.temperature', 'weather.sky', 'weather.wind'],
  numbers: {
    brood: num(15, 'C', 'whitstable-2014', 'warm enough to lift brood combs'),
    brief: num(10, 'C', 'common practice', 'below this no brood comb is lifted; between it and 15 be quick'),
    hot: num(38, 'C', 'common practice', 'above this combs soften and bees and keeper overheat'),
  },
  sources: ['whitstable-2014', 'minnesota-2019'],
  cautions: ['smoker'],
  judge(hive, n) {
    const warm = amount(hive, 'weather.temperature')
    const sky = word(hive, 'weather.sky')
    const wind = word(hive, 'weather.wind')
    const restsOn = [...(warm?.by ?? []), ...sky.by, ...wind.by]
    const no = (why: string, next: string) => [
      { verdict: 'no' as const, what: 'Leave brood combs in the hive.', why, next, restsOn },
    ]
    if (sky.is === 'rain') return no('it rains', 'Come back on a dry day.')
    if (wind.is === 'windy') return no('it is windy', 'Come back on a calm day.')
    if (!warm)
      return [
        {
          verdict: 'cannot tell',
          what: 'Whether the weather is fit is open.',
          why: 'the temperature was not said',
          restsOn,
          missing: [ask(hive, 'weather.temperature', 'optional')],
        },
      ]
    const degrees = `${warm.likely} °C`
    if (warm.likely >= n.hot)
      return no(`${degrees} is hot`, 'Open early in the morning; drink, and stop at headache or dizziness.')
    if (warm.likely >= n.brood)
      return [{ verdict: 'yes', what: 'Fit for opening.', why: `${degrees}, ${n.brood} °C is enough`, restsOn }]
    if (warm.likely >= n.brief)
      return no(`${degrees}, ${n.brood} °C is wanted`, 'A quick look at stores from above is all right; lift no brood.')
    return no(`${degrees} is too cold`, 'Heft it or look under the lid only.')
  },
})
