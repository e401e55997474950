import { beesPerDm2, combs } from './frames.ts'
import { ask } from './questions.ts'
import { defineRule, num } from './rule.ts'
import { beeFrames } from './strength-facts.ts'

const hundreds = (value: number) => Math.round(value / 100) * 100

/** Bees by frames or seams covered: from the mean of uncrowded hives to dense cover on both sides. */
export const beesCount = defineRule({
  id: 'bees-count',
  title: 'How many bees?',
  kind: 'howMuch',
  needs: ['frames.bees', 'seams.bees'],
  numbers: {
    uncrowded: num(
      beesPerDm2.uncrowded,
      'bees per dm²',
      'hive-space-1969',
      'mean of 23 hives: 1,100 a British comb, 1,400 a Langstroth comb',
    ),
    dense: num(beesPerDm2.dense, 'bees per dm²', 'from memory', 'dense full cover in colony-strength work'),
  },
  sources: ['hive-space-1969', 'imdorf-1999'],
  cautions: [],
  judge(hive, n) {
    const bees = beeFrames(hive)
    if (!bees)
      return [
        {
          verdict: 'cannot tell',
          what: 'How many bees is open.',
          why: 'neither frames nor seams of bees were said',
          missing: [ask(hive, 'frames.bees', 'optional')],
        },
      ]
    if (bees.high === 0) return [{ verdict: 'nothing to count', what: 'No bees.', why: 'said so', restsOn: bees.by }]
    const type = hive.settings.equipmentOf(hive.label).broodFrame
    if (!type)
      return [
        {
          verdict: 'cannot tell',
          what: `Bees on ${bees.likely} frames; their number hangs on the frame size.`,
          why: 'the frame size is not set',
          restsOn: bees.by,
          missing: [ask(hive, 'yard.frame')],
        },
      ]
    const dm2 = combs[type].sideDm2 * 2
    const low = hundreds(bees.low * dm2 * n.uncrowded)
    const high = hundreds(bees.high * dm2 * n.dense)
    const likely = hundreds((bees.likely * dm2 * (n.uncrowded + n.dense)) / 2)
    return [
      {
        verdict: 'estimated',
        what: `About ${likely.toLocaleString('en')} bees.`,
        why: `${bees.likely} frames or seams of bees`,
        restsOn: bees.by,
        amounts: [{ what: 'bees', low, likely, high, unit: 'bees' }],
      },
    ]
  },
})
