import { isEuropean } from './moisture.ts'
import { pestFacts } from './pest-facts.ts'
import { ask } from './questions.ts'
import { defineRule, num } from './rule.ts'

/** Hornets: the yellow-legged one is to be reported where it spreads; the European one is left alone. */
export const hornetsPresent = defineRule({
  id: 'hornets-present',
  title: 'Hornets at the hive?',
  kind: 'alarm',
  verdicts: ['none', 'cannot tell', 'watch', 'act'],
  needs: ['pest.hornets.level', 'pest.hornets.count', 'pest.hornets.present'],
  numbers: {
    few: num(2, 'hornets', 'common practice', 'up to this few'),
    some: num(5, 'hornets', 'common practice', 'up to this some, above many'),
  },
  sources: ['hexham-hornet', 'ie-bees-2023'],
  cautions: ['stings'],
  judge(hive, n) {
    const pest = pestFacts(hive, 'hornets', [n.few, n.some])
    const restsOn = pest.by
    if (!pest.level)
      return [
        {
          verdict: 'cannot tell',
          what: 'Hornets were not spoken of.',
          why: 'nothing said',
          missing: [ask(hive, 'pest.hornets.level', 'optional')],
        },
      ]
    if (pest.level === 'none') return [{ verdict: 'none', what: 'No hornets.', why: 'said so', restsOn }]
    const land = hive.settings.country?.slice(0, 2)
    const report = land === 'GB' || land === 'IE' || !land || isEuropean(land)
    const next = report
      ? 'Look at the legs: yellow ends and a dark body is the yellow-legged hornet. Photograph it and report it at once (GB: alertnonnative@ceh.ac.uk); do not disturb the nest.'
      : 'Photograph it and ask your department which hornet it is; do not disturb the nest.'
    if (pest.level === 'few')
      return [{ verdict: 'watch', what: 'A hornet at the hive.', why: 'few were seen', next, restsOn }]
    return [
      {
        verdict: 'act',
        what: 'Hornets at the hive.',
        why: `${pest.level} were seen`,
        next: `${next} Narrow the entrance.`,
        restsOn,
      },
    ]
  },
})
