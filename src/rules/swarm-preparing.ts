import { cellFacts } from './cell-facts.ts'
import { castes } from './development.ts'
import type { Placed } from './hive-view.ts'
import { readings, says, word } from './look.ts'
import { ask } from './questions.ts'
import { type Answer, defineRule, known, num } from './rule.ts'
import { isSwarmSeason } from './season.ts'

/** Signs that a colony gets ready to swarm, and how long before it can go. */
export const swarmPreparing = defineRule({
  id: 'swarm-preparing',
  title: 'Is it getting ready to swarm?',
  kind: 'alarm',
  needs: [
    'queenCells.present',
    'queenCells.stage',
    'queenCells.kind',
    'queenCells.count',
    'queenCups.present',
    'sign.swarmed',
    'sign.backfilled',
    'population',
    'did.cutCells',
  ],
  numbers: {
    sealed: num(
      castes.queen.sealed,
      'days',
      'evans-swarms',
      'from egg to the sealing of a queen cell: the swarm goes then, weather allowing',
    ),
    emerges: known(castes.queen.emerges, 'days', 'morse-1996', 'from egg to a virgin'),
    unnoticed: num(5, 'days', 'davis-2009', 'shortest time from no visible sign to a swarm'),
  },
  sources: ['evans-swarms', 'somerset-swarming', 'davis-2009', 'trunch-cells'],
  cautions: [],
  judge(hive, n) {
    const cells = cellFacts(hive)
    const swarmed = says(hive, 'sign.swarmed')
    const backfilled = says(hive, 'sign.backfilled')
    const population = word(hive, 'population')
    const cut = readings(hive, 'did.cutCells').filter((placed) => placed.value !== 'no' && placed.value !== 0)
    const season = isSwarmSeason(hive.date, hive.settings)
    const by = [...cells.by, ...swarmed.by, ...backfilled.by, ...population.by, ...cut]
    const answer = (
      verdict: Answer['verdict'],
      what: string,
      why: string,
      next = '',
      missing: Answer['missing'] = [],
    ): Answer[] => [{ verdict, what, why, next, restsOn: by as readonly Placed[], missing }]
    if (cells.present) {
      if (cells.stages.has('capped') && !cells.replacing)
        return answer(
          'urgent',
          'Capped queen cells: the swarm may leave any day, or is gone.',
          `a swarm leaves when the first cell is capped, day ${n.sealed}`,
          'Look for eggs and queen now; split or take the queen out today.',
        )
      if (cells.stages.has('open') && !cells.replacing)
        return answer(
          'act',
          'Open queen cells: it means to swarm.',
          `0 to ${n.sealed} days until the first is capped and the swarm can go`,
          'Split, or take the queen out, before they are capped. Cutting cells alone only delays it.',
        )
      if (cells.replacing)
        return answer(
          'watch',
          'Queen cells, but not of the swarming kind.',
          'they replace a queen',
          'See the rule on those; look again within a week.',
        )
      if (cells.stages.has('emerged') || cells.stages.has('tornDown'))
        return answer(
          'act',
          'Emerged or torn-down queen cells.',
          'a swarm may have gone, a virgin may be in the hive',
          'Do not look for three weeks if a virgin is likely; see the calendar.',
        )
      return answer(
        'act',
        'Queen cells.',
        `open or capped was not said: the swarm can go at once or within ${n.sealed} days`,
        'Look whether they are capped, and act today.',
        [ask(hive, 'queenCells.stage', 'first')],
      )
    }
    if (swarmed.is)
      return answer(
        'act',
        'It has swarmed.',
        `virgins can lead out afterswarms 7 to 8 days after the first`,
        'Leave one good cell, and close it up for three weeks.',
      )
    const pressed = population.is === 'crowded' || backfilled.is === true
    if (pressed && season !== false)
      return answer(
        'watch',
        'Short of room, as before swarming.',
        population.is === 'crowded' ? 'the colony is crowded' : 'nectar stands where brood should be',
        'Give room and look for cells within a week.',
      )
    if (cells.present === false)
      return answer('none', 'No queen cells.', `even so a swarm can be ready in ${n.unnoticed} days`)
    if (season === false && !cells.cups && !pressed) {
      return answer('none', 'Out of the swarm season.', 'by the date of the visit')
    }
    return answer('cannot tell', 'Whether it gets ready to swarm is open.', 'queen cells were not spoken of', '', [
      ask(hive, 'queenCells.present', season ? 'first' : 'optional'),
    ])
  },
})
