import { pestFacts } from './pest-facts.ts'
import { ask } from './questions.ts'
import { defineRule } from './rule.ts'

export const micePresent = defineRule({
  id: 'mice-present',
  title: 'Mice in the hive?',
  kind: 'alarm',
  verdicts: ['none', 'cannot tell', 'act'],
  needs: ['pest.mice.level', 'pest.mice.count', 'pest.mice.present'],
  numbers: {},
  sources: [],
  cautions: [],
  judge(hive) {
    const pest = pestFacts(hive, 'mice', [1, 2])
    if (!pest.level)
      return [
        {
          verdict: 'cannot tell',
          what: 'Mice were not spoken of.',
          why: 'nothing said',
          missing: [ask(hive, 'pest.mice.level', 'optional')],
        },
      ]
    if (pest.level === 'none') return [{ verdict: 'none', what: 'No mice.', why: 'said so', restsOn: pest.by }]
    return [
      {
        verdict: 'act',
        what: 'Mice in the hive.',
        why: 'they eat comb and drive bees out in the cold',
        next: 'Take out the nest and spoiled comb; wear gloves; fit a mouse guard before the bees cluster.',
        restsOn: pest.by,
      },
    ]
  },
})
