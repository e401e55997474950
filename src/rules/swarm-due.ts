import { addDays } from './calendar.ts'
import { cellFacts } from './cell-facts.ts'
import { dayUnknown } from './day-unknown.ts'
import { castes } from './development.ts'
import type { Event } from './finding.ts'
import { says } from './look.ts'
import { ask } from './questions.ts'
import { defineRule, num } from './rule.ts'
import { isSwarmSeason } from './season.ts'

const { queen } = castes

/** Earliest and latest day on which a swarm can leave, from the cells seen; bad weather can hold it some days longer. */
export const swarmDue = defineRule({
  id: 'swarm-due',
  title: 'When can a swarm leave?',
  kind: 'when',
  needs: ['queenCells.present', 'queenCells.stage', 'queenCells.kind', 'queen.clipped', 'sign.swarmed'],
  numbers: {
    sealed: num(
      queen.sealed,
      'days',
      'evans-swarms',
      'egg to the capping of a queen cell, when the prime swarm leaves',
    ),
    emerges: num(queen.emerges, 'days', 'morse-1996', 'egg to a virgin'),
    unnoticed: num(5, 'days', 'davis-2009', 'from no visible sign to a swarm: capping less 3 days as an egg'),
    weather: num(3, 'days', 'common practice', 'bad weather may hold a swarm back this long'),
    clipped: num(10, 'days', 'davis-2009', 'with a clipped queen the swarm comes back; the next risk is the virgin'),
  },
  sources: ['evans-swarms', 'davis-2009', 'somerset-swarming', 'trunch-cells'],
  cautions: [],
  judge(hive, n) {
    const cells = cellFacts(hive)
    const clipped = says(hive, 'queen.clipped')
    const swarmed = says(hive, 'sign.swarmed')
    const day = hive.date
    const restsOn = [...cells.by, ...clipped.by, ...swarmed.by]
    if (!day) return [dayUnknown(hive, restsOn)]
    const sealedFor = n.emerges - n.sealed
    const within = (event: string, from: number, likely: number, to: number): Event => ({
      event,
      earliest: addDays(day, from),
      likely: addDays(day, likely),
      latest: addDays(day, to),
    })
    const dated = (why: string, dates: Event[]) => [
      { verdict: 'dated' as const, what: 'A swarm can leave.', why, restsOn, dates },
    ]
    const gone = swarmed.is === true
    if (gone && cells.present !== false)
      return dated('it swarmed; the first virgin emerges within days and can lead out an afterswarm', [
        within('an afterswarm can leave', 0, sealedFor, sealedFor + n.weather),
      ])
    if (!cells.present) {
      if (cells.present === false && isSwarmSeason(day, hive.settings) === false)
        return [
          { verdict: 'nothing due', what: 'No swarm in sight.', why: 'no cells, out of the swarm season', restsOn },
        ]
      if (cells.present === false)
        return [
          {
            verdict: 'nothing due',
            what: `No swarm before ${addDays(day, n.unnoticed)}.`,
            why: `no cells were seen, and ${n.unnoticed} days is the shortest from no visible sign to a swarm`,
            restsOn,
          },
        ]
      return [
        {
          verdict: 'cannot tell',
          what: 'When a swarm could leave is open.',
          why: 'queen cells were not spoken of',
          restsOn,
          missing: [ask(hive, 'queenCells.present')],
        },
      ]
    }
    if (cells.replacing || (!cells.stages.has('open') && !cells.stages.has('capped') && cells.stages.size > 0))
      return [
        {
          verdict: 'nothing due',
          what: 'No prime swarm from these cells.',
          why: cells.replacing ? 'they are not swarm cells' : 'they are empty',
          restsOn,
        },
      ]
    const capped = cells.stages.has('capped')
    const prime = capped
      ? within('the prime swarm can leave', 0, 0, n.weather)
      : within('the prime swarm can leave', 0, n.sealed / 2, n.sealed + n.weather)
    const virgin = capped
      ? within('the first virgin emerges', 0, sealedFor / 2, sealedFor)
      : within('the first virgin emerges', sealedFor, sealedFor + n.sealed / 2, n.emerges)
    const dates = clipped.is
      ? [
          prime,
          virgin,
          within(
            'with a clipped queen look in again by',
            capped ? 0 : Math.min(n.sealed, n.clipped) / 2,
            capped ? 1 : n.sealed - 1,
            capped ? sealedFor - 1 : n.clipped,
          ),
        ]
      : [prime, virgin]
    return dated(
      capped
        ? 'capped cells: it leaves when the first is capped, weather allowing'
        : `open cells hold eggs or larvae of 0 to ${n.sealed} days`,
      dates,
    )
  },
})
