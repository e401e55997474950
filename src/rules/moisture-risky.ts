import { water } from './honey-facts.ts'
import { lastPerPlace, readings } from './look.ts'
import { yeastAllowed } from './moisture.ts'
import { ask } from './questions.ts'
import { defineRule, num } from './rule.ts'

/** Will it ferment? Classes after Lochhead: the wetter, the fewer yeast cells it bears. */
export const moistureRisky = defineRule({
  id: 'moisture-risky',
  title: 'May the honey ferment?',
  kind: 'alarm',
  verdicts: ['none', 'cannot tell', 'watch', 'act'],
  needs: ['honey.moisture'],
  numbers: {
    keepsAlways: num(17.1, 'percent', 'manual-yeast', 'below this no yeast count makes it ferment within a year'),
    keepsSeldom: num(18.6, 'percent', 'us-grades', 'above this honey is not for keeping'),
  },
  sources: ['manual-yeast', 'us-grades'],
  cautions: [],
  judge(hive, n) {
    const measured = lastPerPlace(readings(hive, 'honey.moisture'))
    if (measured.length === 0)
      return [
        {
          verdict: 'cannot tell',
          what: 'Whether the honey keeps is open.',
          why: 'no refractometer reading was said',
          missing: [ask(hive, 'honey.moisture', 'optional')],
        },
      ]
    return measured.map((placed) => {
      const place = { box: placed.box, frame: placed.frame, side: placed.side }
      const percent = water(placed, hive)?.likely
      if (percent === undefined)
        return {
          place,
          verdict: 'cannot tell' as const,
          what: 'The reading was not clear.',
          why: 'no number',
          missing: [ask(hive, 'honey.moisture')],
        }
      const yeast = yeastAllowed(percent)
      const verdict = percent < n.keepsAlways ? 'none' : percent <= n.keepsSeldom ? 'watch' : 'act'
      return {
        place,
        verdict: verdict as 'none' | 'watch' | 'act',
        what: { none: 'The honey keeps.', watch: 'The honey keeps if it is clean.', act: 'The honey may ferment.' }[
          verdict
        ],
        why:
          yeast === 'none'
            ? `${percent.toFixed(1)} % water: it ferments whatever the yeast count`
            : `${percent.toFixed(1)} % water: keeps a year with ${yeast === 'any' ? 'any yeast count' : `at most ${yeast} yeast cells a gram`}`,
        next: verdict === 'act' ? 'Use it soon, keep it cold, or dry it before storing.' : '',
        restsOn: [placed],
      }
    })
  },
})
