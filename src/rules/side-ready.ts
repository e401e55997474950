import { honeyPlaces } from './honey-facts.ts'
import { isBrood } from './look.ts'
import { ask } from './questions.ts'
import { ripeNumbers, ripeness } from './ripeness.ts'
import { defineRule } from './rule.ts'

/** One side of one frame of honey: take it or leave it. A moisture reading outranks the shake test, that the cappings. */
export const sideReady = defineRule({
  id: 'side-ready',
  title: 'Is this side of honey ready to take?',
  kind: 'ready',
  needs: ['honey.cappedPercent', 'honey.shake', 'honey.moisture', 'frame.holds'],
  numbers: ripeNumbers,
  sources: ['brno-2014', 'somerset-honey', 'us-grades'],
  cautions: ['infants'],
  judge(hive, n) {
    const places = honeyPlaces(hive).filter((place) => place.frame !== null)
    if (places.length === 0) {
      const what = 'No side of honey was described.'
      const why = 'the capped share was not said of any frame'
      return [{ verdict: 'cannot tell', what, why, missing: [ask(hive, 'honey.cappedPercent', 'optional')] }]
    }
    return places.map((place) => {
      const { verdict, why, missing } = ripeness(hive, place, n)
      const it = place.side ? 'This side' : 'This frame'
      return {
        place: { box: place.box, frame: place.frame, side: place.side },
        verdict,
        what: { yes: `${it} is ready.`, no: `${it} is not ready.`, 'cannot tell': `${it} may be ready.` }[verdict],
        why,
        next: {
          yes: isBrood(place.box)
            ? 'It stands in the brood box, so it is the colony’s own: leave it unless they have plenty.'
            : 'Take it, if the colony can spare it and no treatment forbids it.',
          no: 'Leave it and look again in a week.',
          'cannot tell': missing[0]?.ask ?? '',
        }[verdict],
        restsOn: place.by,
        missing,
      }
    })
  },
})
