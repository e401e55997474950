import { addDays, isDate } from './calendar.ts'
import { dayUnknown } from './day-unknown.ts'
import { readings, says } from './look.ts'
import { ask } from './questions.ts'
import { defineRule, num } from './rule.ts'
import { isSwarmSeason, seasonOf } from './season.ts'

export const visitDue = defineRule({
  id: 'visit-due',
  title: 'When is the next visit due?',
  kind: 'when',
  verdicts: ['dated', 'cannot tell'],
  needs: ['todo.inspect', 'queen.clipped', 'visit.date'],
  numbers: {
    swarming: num(7, 'days', 'trunch-cells', 'in the swarm season'),
    clipped: num(10, 'days', 'davis-2009', 'in the swarm season with a clipped queen'),
    season: num(14, 'days', 'common practice', 'in the rest of the season'),
    winter: num(30, 'days', 'common practice', 'in winter: heft, do not open'),
  },
  sources: ['davis-2009', 'trunch-cells'],
  cautions: [],
  judge(hive, n) {
    const planned = readings(hive, 'todo.inspect').filter((placed) => isDate(placed.value))
    if (planned.length > 0) {
      const dates = planned.map((placed) => ({
        event: 'visit as planned',
        earliest: String(placed.value),
        likely: String(placed.value),
        latest: String(placed.value),
      }))
      return [{ verdict: 'dated', what: 'A visit is planned.', why: 'said so', restsOn: planned, dates }]
    }
    if (!hive.date) return [dayUnknown(hive)]
    const swarming = isSwarmSeason(hive.date, hive.settings)
    if (swarming === undefined)
      return [
        {
          verdict: 'cannot tell',
          what: 'When to look in again is open.',
          why: 'the season is not known',
          missing: [ask(hive, 'yard.hemisphere'), ask(hive, 'todo.inspect', 'optional')],
        },
      ]
    const clipped = says(hive, 'queen.clipped')
    const winter = seasonOf(hive.date, hive.settings) === 'winter'
    const days = swarming ? (clipped.is ? n.clipped : n.swarming) : winter ? n.winter : n.season
    const early = swarming ? days - 2 : Math.round(days * 0.7)
    const event = winter && !swarming ? 'heft it, do not open' : 'next look'
    const dates = [
      {
        event,
        earliest: addDays(hive.date, early),
        likely: addDays(hive.date, days),
        latest: addDays(hive.date, swarming ? days : Math.round(days * 1.5)),
      },
    ]
    return [
      {
        verdict: 'dated',
        what: `Look in again in ${days} days.`,
        why: swarming ? 'it is the swarm season' : winter ? 'it is winter' : 'the swarm season is over or not begun',
        restsOn: clipped.by,
        dates,
      },
    ]
  },
})
