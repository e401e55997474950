import { says } from './look.ts'
import { ask } from './questions.ts'
import { defineRule } from './rule.ts'
import { isNucleus, strength } from './strength-facts.ts'

export const robbingOn = defineRule({
  id: 'robbing-on',
  title: 'Is the hive being robbed?',
  kind: 'alarm',
  verdicts: ['none', 'cannot tell', 'act', 'urgent'],
  needs: ['sign.robbing', 'population'],
  numbers: {},
  sources: [],
  cautions: [],
  judge(hive) {
    const robbing = says(hive, 'sign.robbing')
    const strong = strength(hive)
    const frail = strong.is === 'weak' || isNucleus(hive)
    if (robbing.is)
      return [
        {
          verdict: frail ? 'urgent' : 'act',
          what: 'The hive is being robbed.',
          why: frail
            ? 'a small or weak colony can be lost within hours'
            : 'robbing spreads from hive to hive, and disease with it',
          next: 'Close up, narrow the entrance to one bee, stop feeding and spill nothing; open no hive here today.',
          restsOn: [...robbing.by, ...(frail ? strong.by : [])],
        },
      ]
    if (robbing.is === false) return [{ verdict: 'none', what: 'No robbing.', why: 'said so', restsOn: robbing.by }]
    return [
      {
        verdict: 'cannot tell',
        what: 'Robbing was not spoken of.',
        why: 'nothing said',
        missing: [ask(hive, 'sign.robbing', 'optional')],
      },
    ]
  },
})
