import { says } from './look.ts'
import { ask } from './questions.ts'
import { defineRule } from './rule.ts'

/** Dead brood of all ages at the edge of the nest, after cold or a loss of bees (signs from memory, no text was read). */
export const broodChilled = defineRule({
  id: 'brood-chilled',
  title: 'Chilled brood?',
  kind: 'alarm',
  verdicts: ['none', 'cannot tell', 'act'],
  needs: ['sign.chilledBrood'],
  numbers: {},
  sources: [],
  cautions: [],
  judge(hive) {
    const chilled = says(hive, 'sign.chilledBrood')
    if (chilled.is)
      return [
        {
          verdict: 'act',
          what: 'Chilled brood.',
          why: 'too few bees to keep it warm, or it was uncovered',
          next: 'Give no more room than the bees cover; look again in a week, for disease can look like it.',
          restsOn: chilled.by,
        },
      ]
    if (chilled.is === false)
      return [{ verdict: 'none', what: 'No chilled brood.', why: 'said so', restsOn: chilled.by }]
    return [
      {
        verdict: 'cannot tell',
        what: 'Chilled brood was not spoken of.',
        why: 'nothing said',
        missing: [ask(hive, 'sign.chilledBrood', 'optional')],
      },
    ]
  },
})
