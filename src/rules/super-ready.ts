import type { HiveView } from './hive-view.ts'
import { honeyPlaces } from './honey-facts.ts'
import { amountIn, isSuper, readings } from './look.ts'
import { ask } from './questions.ts'
import { ripeNumbers, ripeness } from './ripeness.ts'
import { type Answer, defineRule, num } from './rule.ts'

/** A whole super, from its count of capped frames, a share said of the box, or its frames as described. */
export const superReady = defineRule({
  id: 'super-ready',
  title: 'Is this super ready to take?',
  kind: 'ready',
  needs: ['frames.cappedHoney', 'frames.total', 'honey.cappedPercent', 'honey.moisture', 'honey.shake'],
  numbers: {
    ...ripeNumbers,
    framesCapped: num(80, 'percent', 'common practice', 'share of frames that must be capped to take the super whole'),
  },
  sources: ['brno-2014', 'us-grades'],
  cautions: ['infants', 'lifting'],
  judge(hive, n) {
    const places = honeyPlaces(hive)
    const boxes = new Set<string | null>(hive.boxes.filter(isSuper))
    for (const place of places)
      if (place.frame === null && (place.box === null || isSuper(place.box))) boxes.add(place.box)
    for (const placed of readings(hive, 'frames.cappedHoney')) if (placed.box === null) boxes.add(null)
    if (boxes.size === 0) {
      const missing = [ask(hive, 'frames.cappedHoney', 'optional')]
      return [{ verdict: 'cannot tell', what: 'No super was described.', why: 'no super was spoken of', missing }]
    }
    return [...boxes].map((box) => {
      const place = { box, frame: null, side: null }
      const whole = places.find((one) => one.frame === null && one.box === box)
      if (whole && (whole.sealed || whole.moisture || whole.shake === 'drips')) {
        const { verdict, why, missing } = ripeness(hive, whole, n)
        return finish({ verdict, why, missing, restsOn: whole.by, what: '' }, place)
      }
      return finish(byFrames(hive, box, n), place)
    })
  },
})

function byFrames(
  hive: HiveView,
  box: string | null,
  n: { framesCapped: number } & Parameters<typeof ripeness>[2],
): Answer {
  const capped = amountIn(hive, 'frames.cappedHoney', box)
  const said = box === null ? undefined : amountIn(hive, 'frames.total', box)
  const total = said?.likely ?? hive.settings.equipmentOf(hive.label).framesPerBox
  if (capped && total) {
    const share = (capped.likely / total) * 100
    const why = `${capped.likely} of ${total} frames are capped, ${n.framesCapped} % is wanted`
    const restsOn = [...capped.by, ...(said?.by ?? [])]
    return { verdict: share >= n.framesCapped ? 'yes' : 'no', what: '', why, restsOn }
  }
  const frames = honeyPlaces(hive).filter((place) => place.box === box && place.frame !== null)
  const judged = frames.map((place) => ripeness(hive, place, n).verdict)
  const restsOn = [...(capped?.by ?? []), ...frames.flatMap((place) => place.by)]
  if (judged.length > 0 && judged.includes('no'))
    return { verdict: 'no', what: '', why: 'a frame in it is not ready; take the ready ones singly', restsOn }
  if (total && frames.length >= total && judged.every((verdict) => verdict === 'yes'))
    return { verdict: 'yes', what: '', why: 'every frame in it is ready', restsOn }
  const missing = [ask(hive, capped ? 'frames.total' : 'frames.cappedHoney')]
  return { verdict: 'cannot tell', what: '', why: 'not every frame of it was spoken of', restsOn, missing }
}

function finish(answer: Answer, place: NonNullable<Answer['place']>): Answer {
  const what = { yes: 'The super is ready.', no: 'The super is not ready as a whole.' }[answer.verdict as 'yes' | 'no']
  const next = {
    yes: 'Take it, if the colony can spare it and no treatment forbids it.',
    no: 'Leave it, or take the ready frames singly.',
  }[answer.verdict as 'yes' | 'no']
  return { ...answer, place, what: what ?? 'The super may be ready.', next: next ?? answer.missing?.[0]?.ask ?? '' }
}
