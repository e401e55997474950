import { pestFacts } from './pest-facts.ts'
import { ask } from './questions.ts'
import { defineRule, num } from './rule.ts'
import { strength } from './strength-facts.ts'

/** Wax moth follows failure, it does not cause it: strong colonies hold it off. */
export const waxMothPresent = defineRule({
  id: 'wax-moth-present',
  title: 'Wax moth?',
  kind: 'alarm',
  verdicts: ['none', 'cannot tell', 'watch', 'act'],
  needs: ['pest.waxMoth.level', 'pest.waxMoth.count', 'pest.waxMoth.larvae', 'population'],
  numbers: {
    few: num(5, 'moths', 'common practice', 'up to this few'),
    some: num(20, 'moths', 'common practice', 'up to this some, above many'),
  },
  sources: ['nsw-wax-moth'],
  cautions: [],
  judge(hive, n) {
    const pest = pestFacts(hive, 'waxMoth', [n.few, n.some])
    const strong = strength(hive)
    const restsOn = [...pest.by, ...strong.by]
    const seen = pest.larvae || (pest.level !== undefined && pest.level !== 'none')
    if (seen && (strong.is === 'weak' || pest.level === 'many'))
      return [
        {
          verdict: 'act',
          what: 'Wax moth is getting the upper hand.',
          why: strong.is === 'weak' ? 'the colony is weak' : 'there are many',
          next: 'Take combs the bees do not cover, freeze them, and find out why the colony is weak.',
          restsOn,
        },
      ]
    if (seen && (pest.larvae || pest.level === 'some'))
      return [
        {
          verdict: 'watch',
          what: 'Wax moth.',
          why: 'the colony still holds it off',
          next: 'Leave no comb that the bees do not cover.',
          restsOn,
        },
      ]
    if (seen)
      return [{ verdict: 'none', what: 'A few wax moths.', why: 'a colony that is not weak holds them off', restsOn }]
    if (pest.level === 'none' || pest.larvae === false)
      return [{ verdict: 'none', what: 'No wax moth.', why: 'said so', restsOn: pest.by }]
    return [
      {
        verdict: 'cannot tell',
        what: 'Wax moth was not spoken of.',
        why: 'nothing said',
        missing: [ask(hive, 'pest.waxMoth.level', 'optional')],
      },
    ]
  },
})
