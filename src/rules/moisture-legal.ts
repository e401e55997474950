import { water } from './honey-facts.ts'
import { lastPerPlace, readings } from './look.ts'
import { moistureLimit, usGrade } from './moisture.ts'
import { ask } from './questions.ts'
import { defineRule } from './rule.ts'

/** Water against the limit of the chosen standard; limits themselves live in moisture.ts, as several rules need them. */
export const moistureLegal = defineRule({
  id: 'moisture-legal',
  title: 'Is the honey dry enough for the law?',
  kind: 'ready',
  needs: ['honey.moisture'],
  numbers: {},
  sources: ['eu-2001-110', 'codex-12', 'anz-2-8-2', 'us-grades', 'brno-2014', 'bogdanov-2011'],
  cautions: [],
  judge(hive) {
    const limit = moistureLimit(hive.settings)
    const measured = lastPerPlace(readings(hive, 'honey.moisture'))
    if (measured.length === 0)
      return [
        {
          verdict: 'cannot tell',
          what: 'The honey was not measured.',
          why: 'no refractometer reading was said',
          missing: [ask(hive, 'honey.moisture', 'optional')],
        },
      ]
    return measured.map((placed) => {
      const percent = water(placed, hive)
      const place = { box: placed.box, frame: placed.frame, side: placed.side }
      if (!percent || (percent.low <= limit.most && percent.high > limit.most))
        return {
          place,
          verdict: 'cannot tell' as const,
          what: 'The reading is too near the limit.',
          why: `the limit is ${limit.most} % (${limit.words})`,
          restsOn: [placed],
          missing: [ask(hive, 'honey.moisture')],
        }
      const legal = percent.high <= limit.most
      return {
        place,
        verdict: legal ? ('yes' as const) : ('no' as const),
        what: legal ? 'Within the legal limit.' : 'Too wet to be sold as honey.',
        why: `${percent.likely.toFixed(1)} % water against ${limit.most} % (${limit.words}); by water US grade ${usGrade(percent.likely)}`,
        next: legal ? '' : 'Leave it on the hive or dry it; local law decides what may be sold.',
        restsOn: [placed],
        sources: [limit.source],
      }
    })
  },
})
