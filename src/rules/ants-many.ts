import { pestFacts } from './pest-facts.ts'
import { ask } from './questions.ts'
import { defineRule, num } from './rule.ts'
import { strength } from './strength-facts.ts'

export const antsMany = defineRule({
  id: 'ants-many',
  title: 'Too many ants?',
  kind: 'alarm',
  verdicts: ['none', 'cannot tell', 'watch', 'act'],
  needs: ['pest.ants.level', 'pest.ants.count', 'population'],
  numbers: {
    few: num(20, 'ants', 'common practice', 'up to this few'),
    some: num(100, 'ants', 'common practice', 'up to this some, above many'),
  },
  sources: [],
  cautions: [],
  judge(hive, n) {
    const pest = pestFacts(hive, 'ants', [n.few, n.some])
    const weak = strength(hive)
    const restsOn = [...pest.by, ...(weak.is === 'weak' ? weak.by : [])]
    if (!pest.level)
      return [
        {
          verdict: 'cannot tell',
          what: 'Ants were not spoken of.',
          why: 'nothing said',
          missing: [ask(hive, 'pest.ants.level', 'optional')],
        },
      ]
    if (pest.level === 'many' && weak.is === 'weak')
      return [
        {
          verdict: 'act',
          what: 'Ants may drive the colony out.',
          why: 'many ants at a weak colony',
          next: 'Stand the hive legs in oil or grease, clear plants that touch it.',
          restsOn,
        },
      ]
    if (pest.level === 'many')
      return [
        {
          verdict: 'watch',
          what: 'Many ants.',
          why: 'a strong colony bears them',
          next: 'Grease the hive legs, clear plants that touch it.',
          restsOn,
        },
      ]
    return [
      {
        verdict: 'none',
        what: pest.level === 'none' ? 'No ants.' : 'Ants under the lid.',
        why: 'they do no harm in this number',
        restsOn,
      },
    ]
  },
})
