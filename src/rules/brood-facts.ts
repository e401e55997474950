import type { HiveView, Placed } from './hive-view.ts'
import { amount, type Counted, isSuper, readings, type Said, says, unsaid } from './look.ts'

/** What was seen of queen and brood, put together from every field that tells of it. */
export interface BroodFacts {
  readonly eggs: Said
  readonly larvae: Said
  readonly sealed: Said
  readonly any: Said
}

export function broodFacts(hive: HiveView): BroodFacts {
  const eggs = first(says(hive, 'eggs.present'), counted(hive, 'frames.eggs'), held(hive, 'eggs'))
  let larvae = first(says(hive, 'larvae.present'), counted(hive, 'frames.openBrood'), held(hive, 'larvae'))
  let sealed = first(says(hive, 'cappedBrood.present'), counted(hive, 'frames.cappedBrood'), held(hive, 'cappedBrood'))
  const said = first(says(hive, 'brood.present'), counted(hive, 'frames.brood'), held(hive, 'brood'))
  // "No brood" speaks of what is easily seen: larvae and cappings. Eggs are small; only a word about eggs denies them.
  if (said.is === false) {
    if (larvae.is === undefined) larvae = said
    if (sealed.is === undefined) sealed = said
  }
  const anyYes = [eggs, larvae, sealed, said].filter((one) => one.is === true)
  const any: Said =
    anyYes.length > 0
      ? { is: true, by: anyYes.flatMap((one) => one.by) }
      : larvae.is === false && sealed.is === false
        ? { is: false, by: [...larvae.by, ...sealed.by] }
        : unsaid
  return { eggs, larvae, sealed, any }
}

/** Seen anywhere counts as seen; denied counts only where nothing says otherwise. */
function first(...sources: readonly Said[]): Said {
  const yes = sources.filter((one) => one.is === true)
  if (yes.length > 0) return { is: true, by: yes.flatMap((one) => one.by) }
  return sources.find((one) => one.is === false) ?? unsaid
}

function counted(hive: HiveView, field: string): Said {
  const found = amount(hive, field)
  if (!found) return unsaid
  if (found.low > 0) return { is: true, by: found.by }
  return found.high === 0 ? { is: false, by: found.by } : unsaid
}

function held(hive: HiveView, kind: string): Said {
  const by = readings(hive, 'frame.holds').filter((placed) => placed.value === kind)
  return by.length > 0 ? { is: true, by } : unsaid
}

export const broodKinds = ['eggs', 'larvae', 'cappedBrood', 'droneBrood', 'brood']

/** Frames of brood: as counted aloud, else as many as were described with brood on them (at least). */
export function broodFrames(hive: HiveView): Counted | undefined {
  const said = amount(hive, 'frames.brood')
  if (said) return said
  const frames = new Map<string, Placed>()
  for (const placed of readings(hive, 'frame.holds')) {
    if (placed.frame !== null && broodKinds.includes(String(placed.value)))
      frames.set(`${placed.box}/${placed.frame}`, placed)
  }
  if (frames.size === 0) return undefined
  return { low: frames.size, likely: frames.size, high: frames.size, by: [...frames.values()] }
}

/** Brood, eggs or the queen in a super. */
export function broodInSupers(hive: HiveView, kinds = ['eggs', 'larvae', 'cappedBrood', 'brood']): Placed[] {
  const out = readings(hive, 'frame.holds').filter((p) => isSuper(p.box) && kinds.includes(String(p.value)))
  for (const field of ['queen.seen', 'eggs.present', 'larvae.present', 'cappedBrood.present', 'brood.present'])
    out.push(...readings(hive, field).filter((placed) => isSuper(placed.box) && placed.value === 'yes'))
  for (const field of ['frames.brood', 'frames.eggs', 'frames.openBrood', 'frames.cappedBrood'])
    out.push(...readings(hive, field).filter((p) => isSuper(p.box) && typeof p.value === 'number' && p.value > 0))
  return out
}
