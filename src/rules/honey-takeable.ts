import type { Amount } from './finding.ts'
import { honeyKgOf } from './frames.ts'
import type { HiveView, Placed } from './hive-view.ts'
import { honeyPlaces } from './honey-facts.ts'
import { amount, isBrood } from './look.ts'
import { ask } from './questions.ts'
import { ripeNumbers, ripeness } from './ripeness.ts'
import { defineRule, num } from './rule.ts'

const poundsPerKg = 1 / 0.45359237
const round = (value: number) => Math.round(value * 10) / 10

export function inBothUnits(what: string, low: number, likely: number, high: number): Amount[] {
  const of = (unit: string, factor: number) => ({
    what,
    low: round(low * factor),
    likely: round(likely * factor),
    high: round(high * factor),
    unit,
  })
  return [of('kg', 1), of('lb', poundsPerKg)]
}

/** Weight of honey on the sides called ready, by comb size and filled share; what stands in the brood box is the bees'. */
export const honeyTakeable = defineRule({
  id: 'honey-takeable',
  title: 'How much honey is ready?',
  kind: 'howMuch',
  needs: [
    'honey.cappedPercent',
    'honey.filledPercent',
    'honey.moisture',
    'frames.cappedHoney',
    'honey.taken',
    'did.takeHoney',
  ],
  numbers: {
    ...ripeNumbers,
    filledLeast: num(60, 'percent', 'common practice', 'a side whose filled share was not said: at least'),
    filledLikely: num(85, 'percent', 'common practice', 'likely'),
    spread: num(
      15,
      'percent',
      'derived',
      'published weights of full combs lie within this of area times 0.33 kg per dm²',
    ),
  },
  sources: ['frame-building', 'bbka-216'],
  cautions: ['lifting', 'infants'],
  judge(hive, n) {
    const taken = amount(hive, 'honey.taken')
    if (taken)
      return [
        {
          verdict: 'estimated',
          what: 'Honey was taken.',
          why: 'the weight was said',
          restsOn: taken.by,
          amounts: inBothUnits('honey taken', taken.low, taken.likely, taken.high),
        },
      ]
    const ready = honeyPlaces(hive).filter(
      (place) => place.frame !== null && !isBrood(place.box) && ripeness(hive, place, n).verdict === 'yes',
    )
    const restsOn: Placed[] = ready.flatMap((place) => place.by)
    let [low, likely, high, combs] = [0, 0, 0, 0]
    const counted =
      ready.length === 0 ? (amount(hive, 'frames.cappedHoney') ?? amount(hive, 'did.takeHoney')) : undefined
    for (const place of ready) {
      const comb = place.side === null ? 1 : 0.5
      const full = place.filled ?? { low: n.filledLeast, likely: n.filledLikely, high: 100 }
      const type = frameOf(hive, place.box)
      combs += (comb * full.likely) / 100
      if (!type) return [noFrameType(hive, combs, restsOn)]
      const kg = (honeyKgOf(type) * comb) / 100
      low += kg * full.low * (1 - n.spread / 100)
      likely += kg * full.likely
      high += kg * full.high * (1 + n.spread / 100)
    }
    if (counted) {
      const type = frameOf(hive, counted.by[0]?.box ?? null)
      if (!type) return [noFrameType(hive, counted.likely, counted.by)]
      const kg = honeyKgOf(type)
      low = counted.low * kg * (1 - n.spread / 100)
      likely = counted.likely * kg
      high = counted.high * kg * (1 + n.spread / 100)
      restsOn.push(...counted.by)
    }
    if (likely > 0)
      return [
        {
          verdict: 'estimated',
          what: `About ${round(likely)} kg (${round(likely * poundsPerKg)} lb) of ripe honey.`,
          why: counted
            ? `${counted.likely} capped frames`
            : ready.length === 1
              ? 'one side or frame called ready'
              : `${ready.length} sides or frames called ready`,
          restsOn,
          amounts: inBothUnits('ripe honey', low, likely, high),
        },
      ]
    const open = honeyPlaces(hive)
    if (open.length > 0 && open.every((place) => ripeness(hive, place, n).verdict === 'no'))
      return [
        {
          verdict: 'nothing to count',
          what: 'No honey is ready.',
          why: 'no side is',
          restsOn: open.flatMap((place) => place.by),
        },
      ]
    if (counted) return [{ verdict: 'nothing to count', what: 'No honey is ready.', why: 'no capped frame', restsOn }]
    return [
      {
        verdict: 'cannot tell',
        what: 'How much honey is ready was not said.',
        why: 'no side was described well enough',
        missing: [ask(hive, 'honey.cappedPercent', 'optional')],
      },
    ]
  },
})

function frameOf(hive: HiveView, box: string | null) {
  const { broodFrame, superFrame } = hive.settings.equipmentOf(hive.label)
  return isBrood(box) ? broodFrame : superFrame
}

const noFrameType = (hive: HiveView, combs: number, restsOn: readonly Placed[]) => ({
  verdict: 'cannot tell' as const,
  what: `The honey of about ${round(combs)} full frames is ready; its weight hangs on the frame size.`,
  why: 'the frame size is not set',
  restsOn,
  missing: [ask(hive, 'yard.frame')],
})
