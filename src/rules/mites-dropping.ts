import { boardDrop } from './mite-facts.ts'
import { boardThreshold } from './mite-thresholds.ts'
import { ask } from './questions.ts'
import { defineRule, num } from './rule.ts'
import { seasonOf } from './season.ts'

/** Mites on a board: a weak guide, for it knows nothing of the size of the colony. */
export const mitesDropping = defineRule({
  id: 'mites-dropping',
  title: 'Too many mites on the board?',
  kind: 'alarm',
  verdicts: ['none', 'cannot tell', 'watch', 'act'],
  needs: ['mites.dropPerDay', 'mites.count', 'mites.method', 'mites.days'],
  numbers: {
    springAct: num(9, 'per day', 'ontario-mites', 'to wash or treat in spring; authorities range from 9 to 40'),
    summerAct: num(12, 'per day', 'ontario-mites', 'to wash or treat from midsummer'),
  },
  sources: ['ontario-mites', 'gilroy-mites', 'betterbee-boards'],
  cautions: [],
  judge(hive, n) {
    const drop = boardDrop(hive)
    if (!drop)
      return [
        {
          verdict: 'cannot tell',
          what: 'No board was counted.',
          why: 'no drop a day, or no days under the hive',
          missing: [ask(hive, 'mites.days', 'optional')],
        },
      ]
    const season = seasonOf(hive.date, hive.settings)
    const table = boardThreshold(season, hive.settings)
    const late = season === 'summer' || season === 'autumn'
    const act = hive.settings.miteAuthority === 'usdaArs' ? table.act : late ? n.summerAct : n.springAct
    const watch = Math.min(table.watch, act)
    const answer = {
      why: `${drop.perDay.toFixed(1)} mites a day; watch from ${watch}, act from ${act}: ${table.words}`,
      restsOn: drop.by,
      sources: [table.source],
    }
    if (drop.perDay >= act)
      return [
        {
          ...answer,
          verdict: 'act',
          what: 'Many mites on the board.',
          next: 'Do a wash to make sure, and plan a treatment by the label.',
          cautions: ['acid', 'label'],
        },
      ]
    if (drop.perDay >= watch)
      return [
        {
          ...answer,
          verdict: 'watch',
          what: 'Mites on the board are getting many.',
          next: 'Do a wash: the board is a weak guide.',
        },
      ]
    return [{ ...answer, verdict: 'none', what: 'Few mites on the board.', next: 'A wash says more.' }]
  },
})
