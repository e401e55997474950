import type { Ask } from './finding.ts'
import type { HiveView } from './hive-view.ts'
import type { HoneyPlace } from './honey-facts.ts'
import { ask } from './questions.ts'
import { num } from './rule.ts'

/** When honey is ripe; shared by the rules about a side, a super and the weight to take. */
export const ripeNumbers = {
  sealedEnough: num(80, 'percent', 'common practice', 'share of capped cells from which a side counts as ready'),
  sealedLeast: num(67, 'percent', 'brno-2014', 'lowest share taught; between it and 80 the shake test decides'),
  wettest: num(18.6, 'percent', 'us-grades', 'most water in honey that is taken'),
  wettestHeather: num(23, 'percent', 'eu-2001-110', 'most water in heather honey that is taken'),
}
type Numbers = { readonly [K in keyof typeof ripeNumbers]: number }

export interface Ripeness {
  readonly verdict: 'yes' | 'no' | 'cannot tell'
  readonly why: string
  readonly missing: readonly Ask[]
}

export function ripeness(hive: HiveView, place: HoneyPlace, n: Numbers): Ripeness {
  const { sealed, moisture, shake } = place
  const sure = (verdict: 'yes' | 'no', why: string): Ripeness => ({ verdict, why, missing: [] })
  if (place.brood) return sure('no', 'there is brood on it')
  if (moisture) {
    const wettest = hive.settings.heather ? n.wettestHeather : n.wettest
    const reading = `the refractometer says ${moisture.likely.toFixed(1)} % water`
    if (moisture.high <= wettest) return sure('yes', `${reading}, at most ${wettest} % is wanted`)
    if (moisture.low > wettest) return sure('no', `${reading}, more than ${wettest} %`)
    return {
      verdict: 'cannot tell',
      why: `${reading}, too near ${wettest} % to say`,
      missing: [ask(hive, 'honey.moisture')],
    }
  }
  if (shake === 'drips') return sure('no', 'it drips when shaken')
  if (!sealed) {
    if (place.holds.has('nectar') && !place.holds.has('cappedHoney'))
      return sure('no', 'there is open nectar and nothing capped')
    return { verdict: 'cannot tell', why: 'the capped share was not said', missing: [ask(hive, 'honey.cappedPercent')] }
  }
  const share = sealed.low === sealed.high ? `${sealed.low} %` : `${sealed.low} to ${sealed.high} %`
  const dry = shake === 'dry' ? ' and it shakes dry' : ''
  if (sealed.low >= n.sealedEnough) return sure('yes', `${share} is capped${dry}, ${n.sealedEnough} % is enough`)
  if (sealed.high < n.sealedLeast) return sure('no', `${share} is capped, under ${n.sealedLeast} %`)
  if (shake === 'dry' && sealed.low >= n.sealedLeast) return sure('yes', `${share} is capped and it shakes dry`)
  return {
    verdict: 'cannot tell',
    why: `${share} is capped, between ${n.sealedLeast} and ${n.sealedEnough} % the shake test decides`,
    missing: [ask(hive, 'honey.shake'), ask(hive, 'honey.moisture', 'optional')],
  }
}
