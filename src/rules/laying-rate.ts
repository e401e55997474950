import { cellNumbers } from './bees-emerging.ts'
import { cappedCells, noCells } from './capped-cells.ts'
import { castes } from './development.ts'
import { says } from './look.ts'
import { defineRule, num } from './rule.ts'

/** Eggs a day that the capped brood implies, against what a queen can lay: a check on queen and count alike. */
export const layingRate = defineRule({
  id: 'laying-rate',
  title: 'How many eggs a day does the brood imply?',
  kind: 'howMuch',
  needs: ['frames.cappedBrood', 'brood.coverPercent', 'frame.holds', 'cappedBrood.present'],
  numbers: {
    ...cellNumbers,
    days: num(
      castes.worker.emerges - castes.worker.sealed,
      'days',
      'illinois-eggs',
      'worker brood stays capped: cells divided by this are eggs a day',
    ),
    good: num(1500, 'eggs a day', 'illinois-eggs', 'a strong queen at her peak'),
    most: num(
      2000,
      'eggs a day',
      'walrus-model',
      'popular figure, short-lived if reached; more means the count is too high',
    ),
  },
  sources: ['illinois-eggs', 'walrus-model'],
  cautions: [],
  judge(hive, n) {
    const cells = cappedCells(hive, n)
    const said = says(hive, 'cappedBrood.present')
    if (cells && cells !== 'unset' && cells.high > 0) {
      const of = (value: number) => Math.round(value / n.days / 10) * 10
      const rate = of(cells.likely)
      const why =
        of(cells.low) > n.most
          ? `more than the ${n.most} a queen can lay: was the count of capped frames right, or are there two queens?`
          : rate >= n.good
            ? `a strong queen at her peak lays about ${n.good}`
            : `a strong queen at her peak lays about ${n.good}; less is usual before and after it`
      const amounts = [
        { what: 'eggs a day', low: of(cells.low), likely: rate, high: of(cells.high), unit: 'eggs a day' },
      ]
      return [
        {
          verdict: 'estimated',
          what: `About ${rate.toLocaleString('en')} eggs a day, 9 to 21 days ago.`,
          why,
          restsOn: cells.by,
          amounts,
        },
      ]
    }
    return [
      noCells(hive, cells, said, {
        unset: 'The laying rate hangs on the frame size.',
        none: 'No capped brood to reckon from.',
        open: 'The laying rate is open.',
      }),
    ]
  },
})
