import { broodFacts } from './brood-facts.ts'
import { addDays } from './calendar.ts'
import { dayUnknown } from './day-unknown.ts'
import { waits } from './development.ts'
import type { Event } from './finding.ts'
import { queenGap } from './queen-facts.ts'
import { ask } from './questions.ts'
import { defineRule, num } from './rule.ts'

/** From losing a queen, a capped cell or a virgin to the first eggs: how long to leave the hive shut, when to worry. */
export const youngQueenDue = defineRule({
  id: 'young-queen-due',
  title: 'When should the young queen lay?',
  kind: 'when',
  evenUnvisited: true,
  needs: [
    'queen.state',
    'queenCells.stage',
    'queen.event',
    'did.split',
    'did.giveCell',
    'did.killQueen',
    'eggs.present',
  ],
  numbers: {
    emergedToMating: num(5, 'days', 'norfolk-new-queen', 'from emergence to the first mating flights'),
    worryFromLoss: num(33, 'days', 'norfolk-new-queen', 'no eggs by then is a worry (three weeks after emergence)'),
    lateFromLoss: num(40, 'days', 'norfolk-new-queen', 'no eggs by then is too late (four weeks)'),
    worryFromSealing: num(29, 'days', 'norfolk-new-queen', 'the same from a capped cell'),
    lateFromSealing: num(36, 'days', 'norfolk-new-queen', 'the same from a capped cell'),
    worryFromEmergence: num(21, 'days', 'norfolk-new-queen', 'the same from emergence'),
    lateFromEmergence: num(28, 'days', 'norfolk-new-queen', 'the same from emergence'),
  },
  sources: ['norfolk-new-queen', 'macfawn-splits', 'connor-development'],
  cautions: [],
  judge(hive, n) {
    const { eggs } = broodFacts(hive)
    const gap = queenGap(hive)
    if (!hive.date) return [dayUnknown(hive)]
    if (!gap) {
      if (eggs.is || hive.byField.size === 0)
        return [
          {
            verdict: 'nothing due',
            what: 'No young queen is waited for.',
            why: eggs.is ? 'there are eggs' : 'no loss, cell or virgin is known',
            restsOn: eggs.by,
          },
        ]
      return [
        {
          verdict: 'cannot tell',
          what: 'Whether a young queen is waited for is open.',
          why: 'neither eggs, cells nor a virgin were spoken of',
          restsOn: eggs.by,
          missing: [ask(hive, 'eggs.present')],
        },
      ]
    }
    const on = (days: number) => addDays(gap.date, days)
    const wait = { loss: waits.lossToEggs, sealed: waits.sealedToEggs, emerged: waits.emergedToEggs }[gap.kind]
    const worry = { loss: n.worryFromLoss, sealed: n.worryFromSealing, emerged: n.worryFromEmergence }[gap.kind]
    const late = { loss: n.lateFromLoss, sealed: n.lateFromSealing, emerged: n.lateFromEmergence }[gap.kind]
    // A virgin emerges 10 to 17 days after the loss, or 0 to 8 days after capped cells were seen.
    const emerges = { loss: [10, 13, 17], sealed: [0, 4, 8], emerged: [0, 0, 0] }[gap.kind] as [number, number, number]
    const first = emerges[0] + n.emergedToMating
    const dates: Event[] = []
    if (gap.kind !== 'emerged')
      dates.push({
        event: 'the virgin emerges',
        earliest: on(emerges[0]),
        likely: on(emerges[1]),
        latest: on(emerges[2]),
      })
    dates.push({
      event: 'mating flights: do not disturb',
      earliest: on(first),
      likely: on(Math.max(first, wait.likely - 4)),
      latest: on(wait.likely),
    })
    dates.push({ event: 'first eggs', earliest: on(wait.earliest), likely: on(wait.likely), latest: on(wait.latest) })
    dates.push({
      event: 'no eggs: worry, give a test frame; then too late',
      earliest: on(worry),
      likely: on(worry),
      latest: on(late),
    })
    return [
      {
        verdict: 'dated',
        what: 'A young queen is waited for.',
        why: `${gap.words} on ${gap.date}`,
        next: 'Leave it shut until eggs are likely; look in the evening, never at midday while she may fly.',
        restsOn: gap.by,
        dates,
      },
    ]
  },
})
