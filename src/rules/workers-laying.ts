import { broodFacts } from './brood-facts.ts'
import { says } from './look.ts'
import { queenSigns } from './queen-facts.ts'
import { ask } from './questions.ts'
import { defineRule, known } from './rule.ts'

/** Several eggs a cell: laying workers, or a young queen who has not found her measure (2 to 4 eggs, at the bottom). */
export const workersLaying = defineRule({
  id: 'workers-laying',
  title: 'Are workers laying?',
  kind: 'alarm',
  verdicts: ['none', 'cannot tell', 'watch', 'act'],
  needs: ['layingWorkers', 'eggs.multiplePerCell', 'queen.seen', 'eggs.present', 'larvae.present'],
  numbers: {
    notBefore: known(21, 'days', 'norfolk-drone-layer', 'workers hardly lay before all worker brood has emerged'),
  },
  sources: ['norfolk-drone-layer', 'slater-2018'],
  cautions: [],
  judge(hive, n) {
    const workers = says(hive, 'layingWorkers')
    const many = says(hive, 'eggs.multiplePerCell')
    const { eggs, larvae, sealed } = broodFacts(hive)
    const queen = queenSigns(hive)
    const restsOn = [...workers.by, ...many.by, ...queen.seen.by]
    if (workers.is)
      return [
        {
          verdict: 'act',
          what: 'Workers are laying.',
          why: 'judged so',
          next: 'Do not just add a queen, they would kill her: give open brood weekly for three weeks, or unite with a strong queenright colony.',
          restsOn,
        },
      ]
    if (many.is) {
      const young = queen.seen.is || queen.state.is.has('laying')
      return [
        {
          verdict: young ? 'watch' : 'act',
          what: young ? 'Several eggs a cell, with a queen there.' : 'Several eggs a cell: workers may be laying.',
          why: `a young queen does it too; workers hardly before ${n.notBefore} days without a queen`,
          next: 'Look in a week: eggs at the bottom of the cell are a queen’s, on the walls workers’.',
          restsOn: [...restsOn, ...queen.state.by],
        },
      ]
    }
    if (many.is === false || workers.is === false)
      return [
        {
          verdict: 'none',
          what: 'No sign of laying workers.',
          why: many.is === false ? 'one egg a cell' : 'said so',
          restsOn,
        },
      ]
    // Worker brood can only be a queen's.
    if (larvae.is && sealed.is && eggs.is && queen.seen.is)
      return [
        {
          verdict: 'none',
          what: 'No sign of laying workers.',
          why: 'the queen was seen with brood of all ages',
          restsOn: [...restsOn, ...eggs.by, ...larvae.by],
        },
      ]
    const missing = [ask(hive, 'eggs.multiplePerCell', 'optional')]
    return [
      {
        verdict: 'cannot tell',
        what: 'Who lays was not said.',
        why: 'the number of eggs in a cell was not said',
        restsOn,
        missing,
      },
    ]
  },
})
