import { broodFrames } from './brood-facts.ts'
import { amount, amountIn, isSuper, says } from './look.ts'
import { ask } from './questions.ts'
import { defineRule, num } from './rule.ts'
import { isSwarmSeason } from './season.ts'

/** Nectar where brood should be: no room to lay, soon a swarm or a small colony. */
export const nestHoneybound = defineRule({
  id: 'nest-honeybound',
  title: 'Is the brood nest full of honey?',
  kind: 'alarm',
  verdicts: ['none', 'cannot tell', 'watch', 'act'],
  needs: ['sign.backfilled', 'frames.honey', 'frames.nectar', 'frames.brood', 'frames.total'],
  numbers: {
    honeyShare: num(
      60,
      'percent',
      'common practice',
      'share of the brood box under honey from which the queen lacks room',
    ),
    broodLeft: num(3, 'frames', 'common practice', 'with no more than this many frames of brood'),
  },
  sources: [],
  cautions: [],
  judge(hive, n) {
    const filled = says(hive, 'sign.backfilled')
    const swarming = isSwarmSeason(hive.date, hive.settings)
    const next = 'Give drawn comb in the brood nest and a super on top; look for queen cells.'
    if (filled.is)
      return [
        {
          verdict: swarming === false ? 'watch' : 'act',
          what: 'Nectar where brood should be.',
          why: swarming ? 'in the swarm season they leave next' : 'the queen lacks room',
          next,
          restsOn: filled.by,
        },
      ]
    const box = hive.boxes.find((one) => !isSuper(one))
    const honey = box ? amountIn(hive, 'frames.honey', box) : undefined
    const nectar = box ? amountIn(hive, 'frames.nectar', box) : undefined
    const total = (box ? amountIn(hive, 'frames.total', box) : undefined) ?? amount(hive, 'frames.total')
    const frames = total?.likely ?? hive.settings.equipmentOf(hive.label).framesPerBox
    const brood = broodFrames(hive)
    if ((honey || nectar) && frames && brood) {
      const share = (((honey?.likely ?? 0) + (nectar?.likely ?? 0)) / frames) * 100
      const restsOn = [...(honey?.by ?? []), ...(nectar?.by ?? []), ...(total?.by ?? []), ...brood.by]
      const why = `${share.toFixed(0)} % of the brood box is honey, ${brood.likely} frames of brood`
      if (share >= n.honeyShare && brood.likely <= n.broodLeft)
        return [{ verdict: 'watch', what: 'The brood nest may be honey-bound.', why, next, restsOn }]
      return [{ verdict: 'none', what: 'The queen has room.', why, restsOn }]
    }
    if (filled.is === false)
      return [{ verdict: 'none', what: 'The brood nest is not honey-bound.', why: 'said so', restsOn: filled.by }]
    return [
      {
        verdict: 'cannot tell',
        what: 'Whether the queen has room was not said.',
        why: 'nothing of nectar in the brood nest',
        missing: [ask(hive, 'sign.backfilled', 'optional')],
      },
    ]
  },
})
