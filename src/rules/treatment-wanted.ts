import { broodFacts } from './brood-facts.ts'
import { boardDrop, miteRate } from './mite-facts.ts'
import { boardThreshold, miteThreshold } from './mite-thresholds.ts'
import { ask } from './questions.ts'
import { defineRule, num } from './rule.ts'
import { seasonOf } from './season.ts'
import { supersOn, treatments } from './treatment-facts.ts'

export const treatmentWanted = defineRule({
  id: 'treatment-wanted',
  title: 'Treat for mites now?',
  kind: 'ready',
  needs: ['mites.count', 'mites.sampleBees', 'mites.perHundred', 'mites.dropPerDay', 'did.treat', 'boxes.super'],
  numbers: {
    justTreated: num(42, 'days', 'common practice', 'a treatment this recent is judged by a new count before another'),
    smallest: num(200, 'bees', 'common practice', 'a smaller sample cannot say that there are few mites'),
  },
  sources: ['ontario-mites', 'gilroy-mites', 'bip-2018', 'nsw-mites'],
  cautions: ['acid', 'label'],
  judge(hive, n) {
    const season = seasonOf(hive.date, hive.settings)
    const wash = miteRate(hive)
    const board = boardDrop(hive)
    if (!wash && !board)
      return [
        {
          verdict: 'cannot tell',
          what: 'Whether to treat is open.',
          why: 'no mite count was said',
          next: ask(hive, 'mites.count').ask,
          missing: [ask(hive, 'mites.count')],
        },
      ]
    const limit = wash
      ? miteThreshold(season, hive.settings, broodFacts(hive).any.is === false)
      : boardThreshold(season, hive.settings)
    const rate = wash?.rate ?? board!.perDay
    const unit = wash ? 'mites per 100 bees' : 'mites a day on the board'
    const why = `${rate.toFixed(1)} ${unit}, to act at ${limit.act} (${limit.words})`
    const restsOn = wash?.by ?? board!.by
    const latest = treatments(hive)[0]
    if (rate < limit.act) {
      if (wash?.sample !== undefined && wash.sample < n.smallest && wash.high! >= limit.act)
        return [
          {
            verdict: 'cannot tell',
            what: 'The sample is too small to say.',
            why,
            restsOn,
            missing: [ask(hive, 'mites.sampleBees')],
          },
        ]
      return [
        {
          verdict: 'no',
          what: 'No treatment by this count.',
          why,
          next: 'Count again in a month.',
          restsOn,
          sources: [limit.source],
        },
      ]
    }
    if (latest?.ago === 0)
      return [
        {
          verdict: 'no',
          what: 'Treated in this visit.',
          why: `${why}; a treatment was given today`,
          next: 'Count again after the treatment.',
          restsOn: [...restsOn, ...latest.by],
        },
      ]
    const supers = supersOn(hive)
    const again =
      latest?.ago && latest.ago <= n.justTreated ? ' The last treatment did not hold: consider another active.' : ''
    const care = supers.is ? ' Supers are on: only a product whose label allows that, or take them off first.' : ''
    return [
      {
        verdict: 'yes',
        what: 'Treat for mites.',
        why,
        next: `Choose a product registered where you are and follow its label.${care}${again}`,
        restsOn: [...restsOn, ...supers.by],
        sources: [limit.source],
      },
    ]
  },
})
