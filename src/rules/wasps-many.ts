import { pestFacts } from './pest-facts.ts'
import { ask } from './questions.ts'
import { defineRule, num } from './rule.ts'
import { isNucleus, strength } from './strength-facts.ts'

export const waspsMany = defineRule({
  id: 'wasps-many',
  title: 'Too many wasps?',
  kind: 'alarm',
  verdicts: ['none', 'cannot tell', 'watch', 'act'],
  needs: ['pest.wasps.level', 'pest.wasps.count', 'population'],
  numbers: {
    few: num(5, 'wasps', 'common practice', 'up to this few'),
    some: num(20, 'wasps', 'common practice', 'up to this some, above many'),
  },
  sources: [],
  cautions: [],
  judge(hive, n) {
    const pest = pestFacts(hive, 'wasps', [n.few, n.some])
    const strong = strength(hive)
    const frail = strong.is === 'weak' || isNucleus(hive)
    const restsOn = [...pest.by, ...(frail ? strong.by : [])]
    const next = 'Narrow the entrance to a bee or two, spill no syrup, and set traps away from the hives.'
    if (!pest.level)
      return [
        {
          verdict: 'cannot tell',
          what: 'Wasps were not spoken of.',
          why: 'nothing said',
          missing: [ask(hive, 'pest.wasps.level', 'optional')],
        },
      ]
    if (pest.level === 'none') return [{ verdict: 'none', what: 'No wasps.', why: 'said so', restsOn }]
    if (pest.level === 'many' || (pest.level === 'some' && frail))
      return [
        {
          verdict: 'act',
          what: 'Wasps press the colony.',
          why: `${pest.level} wasps${frail ? ' at a weak colony' : ''}`,
          next,
          restsOn,
        },
      ]
    if (pest.level === 'some' || frail)
      return [{ verdict: 'watch', what: 'Wasps to keep an eye on.', why: `${pest.level} wasps`, next, restsOn }]
    return [{ verdict: 'none', what: 'A few wasps.', why: 'the guards cope', restsOn }]
  },
})
