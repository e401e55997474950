import { broodFacts } from './brood-facts.ts'
import { addDays } from './calendar.ts'
import { dayUnknown } from './day-unknown.ts'
import { castes } from './development.ts'
import type { Event } from './finding.ts'
import { says } from './look.ts'
import { ask } from './questions.ts'
import { defineRule, num } from './rule.ts'

const { worker, drone } = castes

/** Hatching, capping and emergence of the brood that was seen: from the youngest and oldest it can be. */
export const broodEmerging = defineRule({
  id: 'brood-emerging',
  title: 'When do eggs hatch, larvae get capped and bees emerge?',
  kind: 'when',
  needs: ['eggs.present', 'larvae.present', 'cappedBrood.present', 'droneBrood.present', 'visit.date'],
  numbers: {
    hatches: num(worker.hatches, 'days', 'wade-2022', 'egg to larva'),
    sealed: num(worker.sealed, 'days', 'wade-2022', 'egg to capping, worker'),
    emerges: num(worker.emerges, 'days', 'morse-1996', 'egg to bee, worker'),
    droneSealed: num(drone.sealed, 'days', 'morse-1996', 'egg to capping, drone'),
    droneEmerges: num(drone.emerges, 'days', 'morse-1996', 'egg to drone'),
  },
  sources: ['morse-1996', 'wade-2022'],
  cautions: [],
  judge(hive, n) {
    const { eggs, larvae, sealed } = broodFacts(hive)
    const drones = says(hive, 'droneBrood.present')
    const restsOn = [...eggs.by, ...larvae.by, ...sealed.by, ...drones.by]
    const day = hive.date
    if (!day) return [dayUnknown(hive, restsOn)]
    /** Brood between `youngest` and `oldest` days old reaches `age` in this window. */
    const reach = (event: string, age: number, youngest: number, oldest: number): Event => ({
      event,
      earliest: addDays(day, Math.max(0, age - oldest)),
      likely: addDays(day, age - (youngest + oldest) / 2),
      latest: addDays(day, age - youngest),
    })
    const dates: Event[] = []
    if (eggs.is) {
      dates.push(reach('eggs hatch', n.hatches, 0, n.hatches))
      dates.push(reach('their larvae are capped', n.sealed, 0, n.hatches))
      dates.push(reach('bees emerge from these eggs', n.emerges, 0, n.hatches))
    }
    if (larvae.is) {
      dates.push(reach('larvae are capped', n.sealed, n.hatches, n.sealed))
      dates.push(reach('bees emerge from these larvae', n.emerges, n.hatches, n.sealed))
    }
    if (sealed.is) dates.push(reach('bees emerge from capped brood', n.emerges, n.sealed, n.emerges))
    if (drones.is) dates.push(reach('drones emerge', n.droneEmerges, n.droneSealed, n.droneEmerges))
    if (dates.length > 0)
      return [
        {
          verdict: 'dated',
          what: 'Brood on its way.',
          why: 'from the stages seen, give or take a day (drones two)',
          restsOn,
          dates,
        },
      ]
    if (eggs.is === false && larvae.is === false && sealed.is === false)
      return [{ verdict: 'nothing due', what: 'No brood.', why: 'said so', restsOn }]
    return [
      {
        verdict: 'cannot tell',
        what: 'No brood stage was spoken of.',
        why: 'nothing said',
        restsOn,
        missing: [ask(hive, 'eggs.present')],
      },
    ]
  },
})
