import { addDays, daysBetween } from './calendar.ts'
import { dayUnknown } from './day-unknown.ts'
import type { HiveView } from './hive-view.ts'
import { readings } from './look.ts'
import { ask } from './questions.ts'
import { defineRule, num } from './rule.ts'

const done = (hive: HiveView, field: string) =>
  readings(hive, field).filter((placed) => placed.value !== 'no' && placed.value !== 0)

export const trapsDue = defineRule({
  id: 'traps-due',
  title: 'When are traps to be emptied?',
  kind: 'when',
  evenUnvisited: true,
  needs: ['did.addTrap', 'did.emptyTrap'],
  numbers: {
    from: num(7, 'days', 'common practice', 'look at a trap from'),
    likely: num(14, 'days', 'common practice', 'empty a trap after'),
    to: num(21, 'days', 'common practice', 'at the latest'),
    forgotten: num(120, 'days', 'common practice', 'older traps are not reminded of'),
  },
  sources: [],
  cautions: [],
  judge(hive, n) {
    if (!hive.date) return [dayUnknown(hive, [], 'optional')]
    for (const visit of [hive, ...hive.past]) {
      const by = [...done(visit, 'did.addTrap'), ...done(visit, 'did.emptyTrap')]
      if (by.length === 0 || !visit.date || daysBetween(visit.date, hive.date) > n.forgotten) continue
      const day = visit.date
      const dates = [
        {
          event: 'empty the traps',
          earliest: addDays(day, n.from),
          likely: addDays(day, n.likely),
          latest: addDays(day, n.to),
        },
      ]
      return [{ verdict: 'dated', what: 'Traps are in.', why: `put in or emptied on ${day}`, restsOn: by, dates }]
    }
    if (hive.past.length === 0)
      return [
        {
          verdict: 'cannot tell',
          what: 'Whether traps are in is open.',
          why: 'none was spoken of, and no earlier visit is known',
          missing: [ask(hive, 'did.addTrap', 'optional')],
        },
      ]
    return [{ verdict: 'nothing due', what: 'No traps are in.', why: 'none in this or an earlier visit' }]
  },
})
