import { cappedCells, noCells } from './capped-cells.ts'
import { castes } from './development.ts'
import { workerCellsPerDm2 } from './frames.ts'
import { says } from './look.ts'
import { defineRule, num } from './rule.ts'

export const cellNumbers = {
  cells: num(workerCellsPerDm2, 'cells per dm²', 'derived', 'worker cells on one side: 23.6 to 25 per square inch'),
  coverLeast: num(50, 'percent', 'common practice', 'a "frame of brood" is covered at least'),
  coverLikely: num(75, 'percent', 'common practice', 'and likely'),
}

/** Capped worker brood all emerges within 12 days. */
export const beesEmerging = defineRule({
  id: 'bees-emerging',
  title: 'How many bees emerge soon?',
  kind: 'howMuch',
  needs: ['frames.cappedBrood', 'brood.coverPercent', 'frame.holds', 'cappedBrood.present'],
  numbers: {
    ...cellNumbers,
    days: num(castes.worker.emerges - castes.worker.sealed, 'days', 'wade-2022', 'under the capping'),
  },
  sources: ['illinois-eggs', 'bbka-frames', 'wade-2022'],
  cautions: [],
  judge(hive, n) {
    const cells = cappedCells(hive, n)
    const said = says(hive, 'cappedBrood.present')
    if (cells && cells !== 'unset' && cells.high > 0) {
      const round = (value: number) => Math.round(value / 100) * 100
      const amounts = [
        {
          what: `bees emerging within ${n.days} days`,
          low: round(cells.low),
          likely: round(cells.likely),
          high: round(cells.high),
          unit: 'bees',
        },
      ]
      return [
        {
          verdict: 'estimated',
          what: `About ${round(cells.likely).toLocaleString('en')} bees emerge within ${n.days} days.`,
          why: 'from the capped brood',
          restsOn: cells.by,
          amounts,
        },
      ]
    }
    return [
      noCells(hive, cells, said, {
        unset: 'The number of emerging bees hangs on the frame size.',
        none: 'No capped brood.',
        open: 'How many bees emerge soon is open.',
      }),
    ]
  },
})
