import { says } from './look.ts'
import { ask } from './questions.ts'
import { defineRule } from './rule.ts'
import { strength } from './strength-facts.ts'

/** Chalkbrood and sacbrood: common, seldom grave, worse in weak and damp hives. In a few places they must be told too. */
export const broodAiling = defineRule({
  id: 'brood-ailing',
  title: 'Chalkbrood or sacbrood?',
  kind: 'alarm',
  verdicts: ['none', 'cannot tell', 'watch', 'act'],
  evenDead: true,
  needs: ['sign.chalkbrood', 'sign.sacbrood', 'population'],
  numbers: {},
  sources: ['brood-signs-2019', 'arkansas-brood', 'vic-diagnosis'],
  cautions: [],
  judge(hive) {
    const chalk = says(hive, 'sign.chalkbrood')
    const sac = says(hive, 'sign.sacbrood')
    const weak = strength(hive)
    const restsOn = [...chalk.by, ...sac.by, ...(weak.is === 'weak' ? weak.by : [])]
    const next =
      'Take the worst combs out, keep the hive dry and strong, replace the queen if it lasts. Sacbrood and foulbrood can look alike: do the matchstick test.'
    if ((chalk.is && sac.is) || ((chalk.is || sac.is) && weak.is === 'weak'))
      return [
        {
          verdict: 'act',
          what: 'Sick brood.',
          why: chalk.is && sac.is ? 'signs of both' : 'in a weak colony',
          next,
          restsOn,
        },
      ]
    if (chalk.is || sac.is)
      return [
        {
          verdict: 'watch',
          what: chalk.is ? 'Signs of chalkbrood.' : 'Signs of sacbrood.',
          why: 'said so',
          next,
          restsOn,
        },
      ]
    if (chalk.is === false || sac.is === false)
      return [{ verdict: 'none', what: 'No mummies or sacs.', why: 'said so', restsOn }]
    return [
      {
        verdict: 'cannot tell',
        what: 'Dead larvae were not spoken of.',
        why: 'nothing said',
        missing: [ask(hive, 'sign.chalkbrood', 'optional')],
      },
    ]
  },
})
