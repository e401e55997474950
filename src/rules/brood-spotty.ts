import { says, word } from './look.ts'
import { ask } from './questions.ts'
import { defineRule, known } from './rule.ts'

export const broodSpotty = defineRule({
  id: 'brood-spotty',
  title: 'Is the brood pattern broken?',
  kind: 'alarm',
  verdicts: ['none', 'cannot tell', 'watch', 'act'],
  needs: ['brood.pattern', 'sign.chalkbrood', 'sign.sacbrood', 'sign.sunkenCappings'],
  numbers: {
    solid: known(90, 'percent', 'vic-diagnosis', 'cells filled in the middle of a solid pattern'),
    spotty: known(80, 'percent', 'common practice', 'fewer cells filled than this is spotty'),
  },
  sources: ['vic-diagnosis', 'evans-spotty'],
  cautions: [],
  judge(hive, n) {
    const pattern = word(hive, 'brood.pattern')
    const sick = ['chalkbrood', 'sacbrood', 'sunkenCappings']
      .flatMap((sign) => says(hive, `sign.${sign}`))
      .filter((said) => said.is === true)
    const restsOn = [...pattern.by, ...sick.flatMap((said) => said.by)]
    if (pattern.is === 'spotty')
      return [
        {
          verdict: sick.length > 0 ? 'act' : 'watch',
          what: 'The brood is spotty.',
          why:
            sick.length > 0
              ? 'and there are signs of sick brood'
              : `under ${n.spotty} % filled; disease, mites, wires, new comb or the queen may be the cause`,
          next: 'Look closely at larvae and cappings, count mites, look again in 10 days.',
          restsOn,
        },
      ]
    if (pattern.is) return [{ verdict: 'none', what: `The pattern is ${pattern.is}.`, why: 'said so', restsOn }]
    return [
      {
        verdict: 'cannot tell',
        what: 'The pattern was not described.',
        why: 'nothing said',
        missing: [ask(hive, 'brood.pattern', 'optional')],
      },
    ]
  },
})
