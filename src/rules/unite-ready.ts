import { hasGraveSigns } from './disease-facts.ts'
import { ask } from './questions.ts'
import { defineRule } from './rule.ts'
import { isAutumn } from './season.ts'
import { isNucleus, strength } from './strength-facts.ts'

/** A weak colony goes into winter better as part of another, but never with a disease it could bring along. */
export const uniteReady = defineRule({
  id: 'unite-ready',
  title: 'Unite it with another colony?',
  kind: 'ready',
  needs: ['population', 'frames.bees', 'sign.*'],
  numbers: {},
  sources: ['alberta-2009'],
  cautions: [],
  judge(hive) {
    if (hasGraveSigns(hive))
      return [
        { verdict: 'no', what: 'Do not unite it.', why: 'there are signs of brood disease: nothing leaves this hive' },
      ]
    const strong = strength(hive)
    if (!strong.is) {
      const missing = [ask(hive, 'population', 'optional')]
      return [
        { verdict: 'cannot tell', what: 'Whether to unite it is open.', why: 'its strength was not said', missing },
      ]
    }
    if (strong.is !== 'weak' || isNucleus(hive)) {
      const why = isNucleus(hive) ? 'a nucleus is meant to be small' : `the colony is ${strong.is}`
      return [{ verdict: 'no', what: 'No need to unite it.', why, restsOn: strong.by }]
    }
    const autumn = isAutumn(hive.date, hive.settings)
    if (autumn === undefined) {
      const missing = [ask(hive, hive.date ? 'yard.hemisphere' : 'visit.date')]
      return [
        {
          verdict: 'cannot tell',
          what: 'Whether to unite it is open.',
          why: 'the season is not known',
          restsOn: strong.by,
          missing,
        },
      ]
    }
    if (!autumn)
      return [
        {
          verdict: 'no',
          what: 'Let it grow first.',
          why: 'it is weak, and the season still gives it time',
          restsOn: strong.by,
        },
      ]
    return [
      {
        verdict: 'yes',
        what: 'Unite it with a stronger colony.',
        why: 'it is weak and winter is near',
        next: 'First find out why it is weak and look for disease; keep the better queen.',
        restsOn: strong.by,
      },
    ]
  },
})
