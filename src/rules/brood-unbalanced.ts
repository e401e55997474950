import { broodFacts } from './brood-facts.ts'
import { castes } from './development.ts'
import { amount } from './look.ts'
import { ask } from './questions.ts'
import { defineRule, known, num } from './rule.ts'

const { hatches, sealed, emerges } = castes.worker
/** In steady laying open and capped brood stand as 9 days to 12. */
const cappedShare = ((emerges - sealed) / emerges) * 100

/** Ages of brood against 3 : 6 : 12 days. The counts are rough, so only gross imbalance is told. */
export const broodUnbalanced = defineRule({
  id: 'brood-unbalanced',
  title: 'Are the ages of brood out of balance?',
  kind: 'alarm',
  verdicts: ['none', 'cannot tell', 'watch', 'act'],
  needs: [
    'frames.eggs',
    'frames.openBrood',
    'frames.cappedBrood',
    'eggs.present',
    'larvae.present',
    'cappedBrood.present',
  ],
  numbers: {
    eggs: known(hatches, 'days', 'wade-2022', 'days as an egg'),
    larva: known(sealed - hatches, 'days', 'wade-2022', 'days as a larva'),
    capped: known(
      emerges - sealed,
      'days',
      'wade-2022',
      'days under the capping: 57 % of all brood is capped in steady laying',
    ),
    most: num(
      75,
      'percent capped',
      'derived',
      'above this laying has fallen (open brood under half of what it should be)',
    ),
    gravest: num(90, 'percent capped', 'derived', 'above this laying has nearly stopped'),
    least: num(35, 'percent capped', 'derived', 'below this laying has just begun, or brood dies before capping'),
  },
  sources: ['wade-2022', 'morse-1996'],
  cautions: [],
  judge(hive, n) {
    const open = amount(hive, 'frames.openBrood')
    const capped = amount(hive, 'frames.cappedBrood')
    const eggFrames = amount(hive, 'frames.eggs')
    const { eggs, larvae, sealed: sealedBrood } = broodFacts(hive)
    if (open && capped && open.likely + capped.likely > 0) {
      const all = open.likely + (eggFrames?.likely ?? 0) + capped.likely
      const share = (capped.likely / all) * 100
      const restsOn = [...open.by, ...capped.by, ...(eggFrames?.by ?? [])]
      const why = `${share.toFixed(0)} % of the brood is capped, ${cappedShare.toFixed(0)} % in steady laying`
      if (share > n.gravest)
        return [
          {
            verdict: 'act',
            what: 'Hardly any open brood.',
            why,
            next: 'Look for eggs, queen and queen cells.',
            restsOn,
          },
        ]
      if (share > n.most)
        return [
          {
            verdict: 'watch',
            what: 'Little open brood: laying has fallen.',
            why,
            next: 'Look for swarm signs, hunger or a failing queen.',
            restsOn,
          },
        ]
      if (share < n.least)
        return [
          {
            verdict: 'watch',
            what: 'Little capped brood.',
            why,
            next: 'A new queen or a spring start does that; else look for brood that dies before capping.',
            restsOn,
          },
        ]
      return [{ verdict: 'none', what: 'Brood of all ages in balance.', why, restsOn }]
    }
    const restsOn = [...eggs.by, ...larvae.by, ...sealedBrood.by]
    const gap = (why: string, next: string) => [
      { verdict: 'watch' as const, what: 'An age of brood is missing.', why, next, restsOn },
    ]
    if (sealedBrood.is && larvae.is === false)
      return gap(
        eggs.is ? 'eggs and capped brood, no larvae: she paused for about a week' : 'capped brood and no larvae',
        'Look for eggs, queen and queen cells.',
      )
    if (larvae.is && sealedBrood.is === false)
      return gap(
        'larvae and no capped brood: a new queen, or brood dies before capping',
        'Look at the larvae: pearly white is well.',
      )
    if (larvae.is && eggs.is === false) return gap('larvae and no eggs', 'Look for eggs and queen within 4 days.')
    if (eggs.is && larvae.is && sealedBrood.is)
      return [
        {
          verdict: 'none',
          what: 'Brood of all ages.',
          why: 'eggs, larvae and capped brood were seen; amounts were not said',
          restsOn,
        },
      ]
    const missing = [ask(hive, 'frames.openBrood', 'optional'), ask(hive, 'frames.cappedBrood', 'optional')]
    return [
      {
        verdict: 'cannot tell',
        what: 'The ages of brood were not said.',
        why: 'open and capped brood were not told apart',
        restsOn,
        missing,
      },
    ]
  },
})
