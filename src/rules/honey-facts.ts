import { broodKinds } from './brood-facts.ts'
import type { HiveView, Placed } from './hive-view.ts'
import { readings, type Span3, span3 } from './look.ts'
import { isIndex, moistureAt } from './moisture.ts'

type Side = 'A' | 'B' | null

/** What was said of the honey at one place: a side, a whole frame, or a whole box (frame null). */
export interface HoneyPlace {
  readonly box: string | null
  readonly frame: number | null
  readonly side: Side
  readonly sealed: Span3 | undefined
  readonly filled: Span3 | undefined
  readonly shake: 'dry' | 'drips' | undefined
  readonly moisture: Span3 | undefined
  readonly holds: ReadonlySet<string>
  readonly brood: boolean
  readonly by: readonly Placed[]
}

const told = ['honey.cappedPercent', 'honey.shake', 'honey.moisture', 'honey.filledPercent']

/** Every place whose honey was spoken of, in the order of the hive. */
export function honeyPlaces(hive: HiveView): HoneyPlace[] {
  const keys = new Map<string, { box: string | null; frame: number | null; side: Side }>()
  const note = ({ box, frame, side }: Placed) => keys.set(`${box}|${frame}|${side}`, { box, frame, side })
  for (const field of told) for (const placed of readings(hive, field)) note(placed)
  for (const placed of readings(hive, 'frame.holds')) {
    if (placed.value === 'cappedHoney' || placed.value === 'honey') note(placed)
  }
  const sided = new Set([...keys.values()].filter((k) => k.side !== null).map((k) => `${k.box}|${k.frame}`))
  return [...keys.values()]
    .filter((key) => key.side !== null || !sided.has(`${key.box}|${key.frame}`))
    .map((key) => at(hive, key.box, key.frame, key.side))
}

function at(hive: HiveView, box: string | null, frame: number | null, side: Side): HoneyPlace {
  /** What holds here: said of this very place, else of the frame, the box, the hive. */
  const near = (field: string, upTo: 'frame' | 'hive'): Placed | undefined => {
    const all = readings(hive, field)
    const exact = (b: string | null, f: number | null, s: Side) =>
      all.filter((p) => p.box === b && p.frame === f && p.side === s).at(-1)
    const here = exact(box, frame, side) ?? exact(box, frame, null)
    return here ?? (upTo === 'hive' ? (exact(box, null, null) ?? exact(null, null, null)) : undefined)
  }
  const sealed = near('honey.cappedPercent', 'frame')
  const filled = near('honey.filledPercent', 'frame')
  const shake = near('honey.shake', 'hive')
  const moisture = near('honey.moisture', 'hive')
  const here = (p: Placed) =>
    p.box === box && p.frame === frame && (side === null || p.side === null || p.side === side)
  const holds = frame === null ? [] : readings(hive, 'frame.holds').filter(here)
  return {
    box,
    frame,
    side,
    sealed: sealed && span3(sealed.value),
    filled: filled && span3(filled.value),
    shake: shake?.value === 'dry' || shake?.value === 'drips' ? shake.value : undefined,
    moisture: moisture && water(moisture, hive),
    holds: new Set(holds.map((placed) => String(placed.value))),
    brood: holds.some((placed) => broodKinds.includes(String(placed.value))),
    by: [sealed, shake, moisture, ...holds].filter((placed) => placed !== undefined),
  }
}

/** Percent of water from a moisture reading; a number such as 1.49 is a refractive index and is looked up. */
export function water(placed: Placed, hive: HiveView): Span3 | undefined {
  const span = span3(placed.value)
  if (!span || !isIndex(span.likely)) return span
  const celsius = hive.settings.refractometerTemperature ?? 20
  // A higher index is drier honey, so the ends change places.
  return {
    low: moistureAt(span.high, celsius),
    likely: moistureAt(span.likely, celsius),
    high: moistureAt(span.low, celsius),
  }
}
