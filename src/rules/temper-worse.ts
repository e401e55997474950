import { amount, says, word } from './look.ts'
import { ask } from './questions.ts'
import { defineRule, num } from './rule.ts'

const scale = ['calm', 'restless', 'defensive', 'aggressive']

/** Temper over the visits. One bad day (weather, dearth, no queen) is not a bad stock. */
export const temperWorse = defineRule({
  id: 'temper-worse',
  title: 'Is the temper getting out of hand?',
  kind: 'alarm',
  needs: ['temperament', 'stings', 'sign.robbing'],
  numbers: { stingsMany: num(10, 'stings', 'common practice', 'stings in one visit that count as aggressive') },
  sources: ['coloss-temper'],
  cautions: ['stings'],
  judge(hive, n) {
    const now = word(hive, 'temperament')
    const stings = amount(hive, 'stings')
    const rank = Math.max(now.is ? scale.indexOf(now.is) : -1, stings && stings.likely >= n.stingsMany ? 3 : -1)
    const restsOn = [...now.by, ...(stings?.by ?? [])]
    if (rank < 0)
      return [
        {
          verdict: 'cannot tell',
          what: 'The temper was not spoken of.',
          why: 'nothing said',
          restsOn,
          missing: [ask(hive, 'temperament', 'optional')],
        },
      ]
    const before = hive.past.map((visit) => word(visit, 'temperament')).find((said) => said.is !== undefined)
    const was = before?.is ? scale.indexOf(before.is) : undefined
    const grounds = before ? [...restsOn, ...before.by] : restsOn
    const { defensiveStock, neighboursNear } = hive.settings
    const robbing = says(hive, 'sign.robbing')
    const trend =
      was === undefined
        ? ''
        : was < rank
          ? `; last time ${before!.is}`
          : was === rank
            ? '; as last time'
            : '; better than last time'
    const why = `${scale[rank]}${trend}${robbing.is ? '; robbing makes bees cross' : ''}`
    if (rank === 3 && (defensiveStock || neighboursNear))
      return [
        {
          verdict: 'urgent',
          what: 'Aggressive bees where people can come to harm.',
          why: `${why}; ${defensiveStock ? 'a defensive stock lives in this region' : 'neighbours are near'}`,
          next: 'Keep people and animals away, close up, and get experienced help; requeen or move the hive.',
          restsOn: grounds,
        },
      ]
    if (rank === 3)
      return [
        {
          verdict: 'act',
          what: 'Aggressive bees.',
          why,
          next: 'Look for a lost queen, robbing or a dearth; plan to requeen if it lasts.',
          restsOn: grounds,
        },
      ]
    if (rank === 2 && (was === 2 || was === 3))
      return [
        {
          verdict: 'act',
          what: 'Defensive for the second visit.',
          why,
          next: 'Plan to requeen from gentle stock.',
          restsOn: grounds,
        },
      ]
    if (rank === 2 || (was !== undefined && rank > was))
      return [
        {
          verdict: 'watch',
          what: 'The temper is worse than it should be.',
          why,
          next: 'Look for a lost queen, robbing, a dearth or coming storm.',
          restsOn: grounds,
        },
      ]
    return [{ verdict: 'none', what: 'Good to work with.', why, restsOn: grounds }]
  },
})
