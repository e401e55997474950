import { daysBetween } from './calendar.ts'
import { says, word, words } from './look.ts'
import { ask } from './questions.ts'
import { defineRule, num } from './rule.ts'

/** A queen who lays badly or only drones. Spotty brood alone does not prove it: disease, mites and new comb do it too. */
export const queenFailing = defineRule({
  id: 'queen-failing',
  title: 'Is the queen failing or laying only drones?',
  kind: 'alarm',
  verdicts: ['none', 'cannot tell', 'watch', 'act'],
  needs: [
    'queen.state',
    'brood.pattern',
    'droneBrood.present',
    'queen.event',
    'cappedBrood.present',
    'queenCells.kind',
  ],
  numbers: { again: num(60, 'days', 'common practice', 'how far back a spotty pattern counts as the same trouble') },
  sources: ['norfolk-drone-layer', 'evans-spotty'],
  cautions: [],
  judge(hive, n) {
    const state = words(hive, 'queen.state')
    const pattern = word(hive, 'brood.pattern')
    const event = words(hive, 'queen.event')
    const cells = words(hive, 'queenCells.kind')
    const drones = says(hive, 'droneBrood.present')
    const capped = says(hive, 'cappedBrood.present')
    const restsOn = [...state.by, ...pattern.by, ...event.by, ...cells.by, ...drones.by, ...capped.by]
    if (state.is.has('droneLaying'))
      return [
        {
          verdict: 'act',
          what: 'The queen lays only drones.',
          why: 'judged so',
          next: 'Replace her, or unite while there are still young bees.',
          restsOn,
        },
      ]
    if (state.is.has('failing'))
      return [
        {
          verdict: 'act',
          what: 'The queen is failing.',
          why: 'judged so',
          next: 'Get a mated queen; leave supersedure cells alone.',
          restsOn,
        },
      ]
    if (drones.is && capped.is === false && says(hive, 'layingWorkers').is !== true)
      return [
        {
          verdict: 'act',
          what: 'Drone brood and no worker brood.',
          why: 'one egg a cell in a solid patch points to a drone layer, scattered cells to laying workers',
          next: 'Look for the queen and count the eggs in a cell.',
          restsOn,
          missing: [ask(hive, 'eggs.multiplePerCell')],
        },
      ]
    const again = hive.past.some(
      (visit) =>
        visit.date &&
        hive.date &&
        daysBetween(visit.date, hive.date) <= n.again &&
        word(visit, 'brood.pattern').is === 'spotty',
    )
    if (pattern.is === 'spotty' && again)
      return [
        {
          verdict: 'act',
          what: 'Spotty brood for the second visit.',
          why: 'it has not mended since the last visit',
          next: 'Rule out mites and disease, then replace the queen.',
          restsOn,
        },
      ]
    if (pattern.is === 'spotty' || cells.is.has('supersedure') || event.is.has('stoppedLaying')) {
      const why =
        pattern.is === 'spotty'
          ? 'the brood is spotty'
          : cells.is.has('supersedure')
            ? 'the bees are replacing her'
            : 'she stopped laying'
      return [
        {
          verdict: 'watch',
          what: 'The queen may be failing.',
          why,
          next: 'Look at the pattern again in 10 days; count mites.',
          restsOn,
        },
      ]
    }
    if (state.is.has('laying') || pattern.is === 'solid' || pattern.is === 'fair')
      return [
        {
          verdict: 'none',
          what: 'The queen lays well.',
          why: pattern.is ? `the pattern is ${pattern.is}` : 'judged so',
          restsOn,
        },
      ]
    return [
      {
        verdict: 'cannot tell',
        what: 'How the queen lays was not said.',
        why: 'neither pattern nor judgement',
        restsOn,
        missing: [ask(hive, 'brood.pattern')],
      },
    ]
  },
})
