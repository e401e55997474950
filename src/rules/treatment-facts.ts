import { daysBetween } from './calendar.ts'
import type { HiveView, Placed } from './hive-view.ts'
import { amount, isSuper, readings, type Said, says } from './look.ts'

/** Whether honey supers stand on the hive at the end of the visit; undefined where nobody said. */
export function supersOn(hive: HiveView): Said {
  const count = amount(hive, 'boxes.super')
  if (count && count.low > 0) return { is: true, by: count.by }
  if (hive.boxes.some(isSuper)) return { is: true, by: [] }
  if (count && count.high === 0) return { is: false, by: count.by }
  return { is: undefined, by: [] }
}

export interface Treatment {
  readonly kind: string | undefined
  readonly date: string | null
  /** Days from the treatment to the day in question; null where a date is missing. */
  readonly ago: number | null
  readonly supers: Said
  readonly by: readonly Placed[]
}

/** Treatments of this visit and of earlier ones, newest first. */
export function treatments(hive: HiveView): Treatment[] {
  const out: Treatment[] = []
  for (const visit of [hive, ...hive.past]) {
    const done = readings(visit, 'did.treat').filter((placed) => placed.value !== 'no')
    const kinds = readings(visit, 'did.treat.kind')
    if (done.length === 0 && kinds.length === 0) continue
    const ago = visit.date && hive.date ? daysBetween(visit.date, hive.date) : null
    const entries = kinds.length > 0 ? kinds.map((placed) => String(placed.value)) : [undefined]
    for (const kind of entries)
      out.push({ kind, date: visit.date, ago, supers: supersOn(visit), by: [...done, ...kinds] })
  }
  return out
}

/** Ingredients whose labels differ from product to product about honey supers. */
export const labelDecides = (kind: string | undefined): boolean =>
  kind === undefined || kind === 'formicAcid' || kind === 'oxalicAcid' || kind === 'hopAcids'

export const treatmentWords: Record<string, string> = {
  oxalicAcid: 'oxalic acid',
  formicAcid: 'formic acid',
  thymol: 'thymol',
  amitraz: 'amitraz',
  hopAcids: 'hop acids',
  other: 'another treatment',
}

/** Whether a treatment was taken out again in this visit. */
export const treatmentOut = (hive: HiveView): boolean => says(hive, 'did.removeTreatment').is === true
