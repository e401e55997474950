import { broodFacts } from './brood-facts.ts'
import { says } from './look.ts'
import { miteRate } from './mite-facts.ts'
import { miteThreshold } from './mite-thresholds.ts'
import { ask } from './questions.ts'
import { defineRule, num } from './rule.ts'
import { seasonOf } from './season.ts'

/** Mites per 100 bees against the season's threshold, with what the size of the sample leaves open. */
export const mitesHigh = defineRule({
  id: 'mites-high',
  title: 'Too many mites on the bees?',
  kind: 'alarm',
  needs: ['mites.count', 'mites.sampleBees', 'mites.perHundred', 'mites.method', 'sign.deformedWings'],
  numbers: {
    smallest: num(200, 'bees', 'common practice', 'a smaller sample cannot say that there are few mites; 300 is usual'),
    springAct: num(2, 'per 100', 'ontario-mites', 'to act in spring; yard setting miteAuthority chooses another table'),
    summerAct: num(
      3,
      'per 100',
      'ontario-mites',
      'to act from midsummer; yard setting miteAuthority chooses another table',
    ),
  },
  sources: ['coloss-varroa', 'wilson', 'ontario-mites', 'gilroy-mites', 'bip-2018', 'nsw-mites'],
  cautions: [],
  judge(hive, n) {
    const mites = miteRate(hive)
    const wings = says(hive, 'sign.deformedWings')
    if (!mites)
      return [
        {
          verdict: wings.is ? 'watch' : 'cannot tell',
          what: wings.is ? 'Crippled wings, and no mite count.' : 'Mites were not counted.',
          why: 'no wash, roll or rate was said',
          next: ask(hive, 'mites.count').ask,
          restsOn: wings.by,
          missing: [ask(hive, 'mites.count', wings.is ? 'first' : 'optional')],
        },
      ]
    const season = seasonOf(hive.date, hive.settings)
    const table = miteThreshold(season, hive.settings, broodFacts(hive).any.is === false)
    const standard = (hive.settings.miteAuthority ?? 'default') === 'default'
    const set = season === 'summer' || season === 'autumn' ? n.summerAct : n.springAct
    // A number set in the yard file moves the act value of the default table, not of a chosen authority.
    const act = standard && table.words !== 'colony without brood' ? set : table.act
    const watch = Math.min(table.watch, act)
    const span = mites.low === undefined ? '' : ` (95 %: ${mites.low.toFixed(1)} to ${mites.high!.toFixed(1)})`
    const why = `${mites.rate.toFixed(1)} per 100 bees${span}; watch from ${watch}, act from ${act}: ${table.words}`
    const restsOn = [...mites.by, ...(wings.is ? wings.by : [])]
    const answer = { why, restsOn, sources: [table.source] }
    if (mites.rate >= act)
      return [
        {
          ...answer,
          verdict: wings.is ? 'urgent' : 'act',
          what: 'Too many mites.',
          next: 'Treat by the label of a registered product, then count again.',
          cautions: ['acid', 'label'],
        },
      ]
    const tooSmall = mites.sample !== undefined && mites.sample < n.smallest && mites.high! >= act
    if (mites.rate >= watch || wings.is)
      return [
        {
          ...answer,
          verdict: 'watch',
          what: 'Mites are getting many.',
          next: 'Plan a treatment and count again in 2 to 3 weeks.',
        },
      ]
    if (tooSmall)
      return [
        {
          ...answer,
          verdict: 'cannot tell',
          what: 'The sample is too small to say.',
          next: 'Wash about 300 bees.',
          missing: [ask(hive, 'mites.sampleBees')],
        },
      ]
    return [{ ...answer, verdict: 'none', what: 'Few mites.', next: 'Count again in a month.' }]
  },
})
