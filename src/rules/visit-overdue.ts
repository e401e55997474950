import { daysBetween } from './calendar.ts'
import { says } from './look.ts'
import { ask } from './questions.ts'
import { defineRule, num } from './rule.ts'
import { isSwarmSeason } from './season.ts'

/** In the swarm season a colony that nobody looks into for too long is gone. Also asked of hives this visit left out. */
export const visitOverdue = defineRule({
  id: 'visit-overdue',
  title: 'Not looked into for too long?',
  kind: 'alarm',
  verdicts: ['none', 'cannot tell', 'watch', 'act'],
  evenUnvisited: true,
  needs: ['visit.date', 'queen.clipped'],
  numbers: {
    interval: num(7, 'days', 'trunch-cells', 'between visits in the swarm season; clubs say 5 to 10'),
    clipped: num(10, 'days', 'davis-2009', 'between visits with a clipped queen (13 by the sums, less for safety)'),
  },
  sources: ['davis-2009', 'trunch-cells'],
  cautions: [],
  judge(hive, n) {
    const visited = hive.byField.size > 0
    const today = hive.today
    const swarming = isSwarmSeason(today ?? hive.date, hive.settings)
    const clipped = [hive, ...hive.past]
      .map((visit) => says(visit, 'queen.clipped'))
      .find((said) => said.is !== undefined)
    const most = clipped?.is ? n.clipped : n.interval
    const last = visited ? hive.date : (hive.past[0]?.date ?? null)
    const earlier = visited ? hive.past[0]?.date : undefined
    const restsOn = clipped?.by ?? []
    if (swarming === false)
      return [{ verdict: 'none', what: 'Out of the swarm season.', why: 'no weekly look is needed', restsOn }]
    if (!last || !today || swarming === undefined)
      return [
        {
          verdict: 'cannot tell',
          what: 'Whether it is overdue is open.',
          why: 'day or season is not known',
          restsOn,
          missing: [ask(hive, last ? 'yard.hemisphere' : 'visit.date', 'optional')],
        },
      ]
    const since = daysBetween(last, today)
    if (since > most)
      return [
        {
          verdict: 'act',
          what: 'A look is overdue.',
          why: `${since} days since ${last}, at most ${most} in the swarm season`,
          next: 'Look for queen cells today if the weather is fit.',
          restsOn,
        },
      ]
    const gap = earlier ? daysBetween(earlier, last) : undefined
    if (gap !== undefined && gap > most)
      return [
        {
          verdict: 'watch',
          what: 'The gap before this visit was long.',
          why: `${gap} days, at most ${most} in the swarm season`,
          next: 'Look whether the colony has already swarmed.',
          restsOn,
        },
      ]
    if (gap === undefined && visited && since === 0)
      return [
        {
          verdict: 'cannot tell',
          what: 'How long nobody looked before this visit is not known.',
          why: 'no earlier visit',
          restsOn,
          missing: [ask(hive, 'history', 'optional')],
        },
      ]
    return [
      {
        verdict: 'none',
        what: 'Looked into often enough.',
        why: `${Math.max(since, gap ?? 0)} days, at most ${most}`,
        restsOn,
      },
    ]
  },
})
