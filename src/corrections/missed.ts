import { fieldInfo } from '../record/fields.ts'
import type { CorrectedPlace } from './correction.ts'

/** A place as finely as a field may stand at it: what is said of the visit has no hive, a hive's temper no frame. */
export function placeFor(field: string, { hive, box, frame, side }: CorrectedPlace): CorrectedPlace {
  const finest = fieldInfo(field)?.place ?? 'hive'
  if (finest === 'visit') return { hive: null, box: null, frame: null, side: null }
  return {
    hive,
    box: finest === 'hive' ? null : box,
    frame: finest === 'side' || finest === 'frame' ? frame : null,
    side: finest === 'side' ? side : null,
  }
}
