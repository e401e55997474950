import type { Ask } from './finding.ts'
import { honeyKgOf } from './frames.ts'
import type { HiveView, Placed } from './hive-view.ts'
import { amount, isSuper, readings, type Span3, span3 } from './look.ts'
import { ask } from './questions.ts'
import type { Climate } from './settings.ts'
import { supersOn } from './treatment-facts.ts'

export interface Stores {
  readonly kg: (Span3 & { readonly by: readonly Placed[] }) | undefined
  /** What would have to be known for a weight. */
  readonly missing: readonly Ask[]
}

/** Weight of stores: as said, else frames of honey by frame type. `nest`: leave out what stands in the supers. */
export function stores(hive: HiveView, nest = false): Stores {
  const said = amount(hive, 'stores.weight')
  if (said) return { kg: said, missing: [] }
  const counted = readings(hive, 'frames.honey').filter((placed) => placed.frame === null && span3(placed.value))
  const boxed = counted.filter((placed) => placed.box !== null)
  const used = boxed.length > 0 ? boxed.filter((placed) => !nest || !isSuper(placed.box)) : counted.slice(-1)
  if (counted.length === 0) return { kg: undefined, missing: [ask(hive, 'frames.honey', 'first')] }
  // Honey counted in the brood box alone says nothing of what stands in the supers above it.
  const partly = boxed.length > 0 && !boxed.some((placed) => isSuper(placed.box)) && supersOn(hive).is === true
  if (!nest && partly) return { kg: undefined, missing: [ask(hive, 'frames.honey')] }
  const { broodFrame, superFrame } = hive.settings.equipmentOf(hive.label)
  let [low, likely, high] = [0, 0, 0]
  for (const placed of used) {
    const type = isSuper(placed.box) ? superFrame : broodFrame
    if (!type) return { kg: undefined, missing: [ask(hive, 'yard.frame')] }
    const frames = span3(placed.value)!
    const kg = honeyKgOf(type)
    // Published weights of a comb of honey lie within 15 % of area times density (derived).
    low += frames.low * kg * 0.85
    likely += frames.likely * kg
    high += frames.high * kg * 1.15
  }
  return { kg: { low, likely, high, by: used.length > 0 ? used : counted }, missing: [] }
}

const byClimate: Record<Climate, number> = { mild: 15, temperate: 20, cold: 40, subtropical: 10, tropical: 10 }

/** Stores needed for winter, kg; undefined where neither the amount nor the climate is set. */
export function winterNeed(hive: HiveView): number | undefined {
  const { winterStoresKg, climate } = hive.settings
  if (winterStoresKg !== undefined) return winterStoresKg
  if (!climate) return undefined
  const boxes = hive.boxes.filter((box) => !isSuper(box)).length
  // British advice: 20 kg on one brood box, 25 kg on more.
  return climate === 'temperate' && (boxes > 1 || (amount(hive, 'boxes.brood')?.low ?? 0) > 1) ? 25 : byClimate[climate]
}
