import { amount, says, word } from './look.ts'
import { ask } from './questions.ts'
import { defineRule, num } from './rule.ts'
import { isSwarmSeason } from './season.ts'
import { beeFrames } from './strength-facts.ts'

export const colonyCrowded = defineRule({
  id: 'colony-crowded',
  title: 'Is the colony crowded?',
  kind: 'alarm',
  verdicts: ['none', 'cannot tell', 'watch', 'act'],
  needs: ['population', 'frames.bees', 'frames.total', 'sign.bearding'],
  numbers: { covered: num(90, 'percent', 'common practice', 'share of all combs under bees from which it is crowded') },
  sources: ['hive-space-1969'],
  cautions: [],
  judge(hive, n) {
    const said = word(hive, 'population')
    const bearding = says(hive, 'sign.bearding')
    const bees = beeFrames(hive)
    const total = amount(hive, 'frames.total')
    const swarming = isSwarmSeason(hive.date, hive.settings)
    const share = bees && total && total.likely > 0 ? (bees.likely / total.likely) * 100 : undefined
    const restsOn = [...said.by, ...bearding.by, ...(share === undefined ? [] : [...bees!.by, ...total!.by])]
    const full = said.is === 'crowded' || (share !== undefined && share >= n.covered)
    const next = 'Give room, and look for queen cells.'
    if (full) {
      const why = said.is === 'crowded' ? 'judged so' : `bees on ${share!.toFixed(0)} % of the frames`
      return [{ verdict: swarming === false ? 'watch' : 'act', what: 'The colony is crowded.', why, next, restsOn }]
    }
    if (bearding.is)
      return [
        {
          verdict: 'watch',
          what: 'Bees hang out at the entrance.',
          why: 'from heat or want of room',
          next: 'Give shade, air and room.',
          restsOn,
        },
      ]
    if (said.is || share !== undefined)
      return [
        {
          verdict: 'none',
          what: 'There is room.',
          why: said.is ? `the colony is ${said.is}` : `bees on ${share!.toFixed(0)} % of the frames`,
          restsOn,
        },
      ]
    return [
      {
        verdict: 'cannot tell',
        what: 'How full it is was not said.',
        why: 'neither strength nor frames of bees',
        restsOn,
        missing: [ask(hive, 'frames.bees', 'optional')],
      },
    ]
  },
})
