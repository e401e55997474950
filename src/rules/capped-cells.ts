import { combs } from './frames.ts'
import type { HiveView, Placed } from './hive-view.ts'
import { amount, readings, type Said, type Span3, span3 } from './look.ts'
import { ask } from './questions.ts'
import type { Answer } from './rule.ts'

export interface Cells extends Span3 {
  readonly by: readonly Placed[]
}

interface Densities {
  readonly cells: number
  readonly coverLeast: number
  readonly coverLikely: number
}

/**
 * Capped worker cells: frames of capped brood times cells, less what is not covered; or side by side where the cover was
 * said. `unset`: the frame size is not known. Undefined: capped brood was not counted.
 */
export function cappedCells(hive: HiveView, n: Densities): Cells | 'unset' | undefined {
  const type = hive.settings.equipmentOf(hive.label).broodFrame
  const sides = readings(hive, 'brood.coverPercent').filter((cover) => cover.frame !== null && isCapped(hive, cover))
  const counted = amount(hive, 'frames.cappedBrood')
  if (sides.length === 0 && !counted) return undefined
  if (!type) return 'unset'
  const side = combs[type].sideDm2 * n.cells
  if (counted)
    return {
      low: (counted.low * side * 2 * n.coverLeast) / 100,
      likely: (counted.likely * side * 2 * n.coverLikely) / 100,
      high: counted.high * side * 2,
      by: counted.by,
    }
  const sum = { low: 0, likely: 0, high: 0 }
  for (const cover of sides) {
    const share = span3(cover.value)
    const faces = cover.side === null ? 2 : 1
    if (!share) continue
    sum.low += (share.low * side * faces) / 100
    sum.likely += (share.likely * side * faces) / 100
    sum.high += (share.high * side * faces) / 100
  }
  return { ...sum, by: sides }
}

/** Whether the brood of this side or frame was called capped. */
function isCapped(hive: HiveView, { box, frame, side }: Placed): boolean {
  return readings(hive, 'frame.holds').some(
    (held) =>
      held.value === 'cappedBrood' &&
      held.box === box &&
      held.frame === frame &&
      (held.side === side || held.side === null || side === null),
  )
}

/** What rules over capped cells answer where there are none to reckon with. */
export function noCells(
  hive: HiveView,
  cells: Cells | 'unset' | undefined,
  said: Said,
  texts: { readonly unset: string; readonly none: string; readonly open: string },
): Answer {
  if (cells === 'unset')
    return {
      verdict: 'cannot tell',
      what: texts.unset,
      why: 'the frame size is not set',
      missing: [ask(hive, 'yard.frame')],
    }
  if (cells || said.is === false)
    return { verdict: 'nothing to count', what: texts.none, why: 'said so', restsOn: cells ? cells.by : said.by }
  return {
    verdict: 'cannot tell',
    what: texts.open,
    why: 'capped brood was not counted',
    restsOn: said.by,
    missing: [ask(hive, 'frames.cappedBrood', 'optional')],
  }
}
