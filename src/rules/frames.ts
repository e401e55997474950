/**
 * Comb sizes and what fits on them. Areas are of one side: frame less bars (`derived`) unless a text gave them. Cells,
 * bees and honey follow from area by one density each, so that every frame type is treated alike.
 */
export const frameTypes = [
  'langstrothDeep',
  'langstrothMedium',
  'langstrothShallow',
  'nationalDeep',
  'nationalShallow',
  'national14x12',
  'commercialDeep',
  'dadantDeep',
  'dadantShallow',
  'warre',
  'wsp',
  'manley',
  'ideal',
] as const
export type FrameType = (typeof frameTypes)[number]

interface Comb {
  /** Area of one side, square decimetres. */
  readonly sideDm2: number
  readonly perBox: number
}

export const combs: Record<FrameType, Comb> = {
  langstrothDeep: { sideDm2: 8.75, perBox: 10 },
  langstrothMedium: { sideDm2: 5.6, perBox: 10 },
  langstrothShallow: { sideDm2: 4.7, perBox: 10 },
  nationalDeep: { sideDm2: 6.5, perBox: 11 },
  nationalShallow: { sideDm2: 3.9, perBox: 11 },
  national14x12: { sideDm2: 9.5, perBox: 11 },
  // From memory (16 x 10 in outside, less bars).
  commercialDeep: { sideDm2: 8.4, perBox: 11 },
  // From memory (435 x 300 mm outside, less bars).
  dadantDeep: { sideDm2: 11.3, perBox: 11 },
  dadantShallow: { sideDm2: 5.9, perBox: 11 },
  warre: { sideDm2: 5.5, perBox: 8 },
  // Australian depths: box 190.5, 168 and 146 mm, frame 9 mm less, Langstroth length.
  wsp: { sideDm2: 6.6, perBox: 10 },
  manley: { sideDm2: 5.6, perBox: 10 },
  ideal: { sideDm2: 4.7, perBox: 10 },
}

/**
 * Worker cells on one dm² of one side. 366 to 390 follow from the 23.6 and 25 cells per square inch that were read; the
 * 400 of colony-strength work is from memory, so the middle of what was read is taken.
 */
export const workerCellsPerDm2 = 380
/** 16 per square inch. */
export const droneCellsPerDm2 = 248
/** Honey on one dm² of comb, both sides together, 25 mm thick. */
export const honeyKgPerDm2 = 0.33
/** Bees on one dm² of a covered side: uncrowded hives (measured mean), and full dense cover. */
export const beesPerDm2 = { uncrowded: 82, dense: 125 } as const

export const cellsOnBothSides = (type: FrameType): number => combs[type].sideDm2 * 2 * workerCellsPerDm2
export const honeyKgOf = (type: FrameType): number => combs[type].sideDm2 * honeyKgPerDm2
export const beesOn = (type: FrameType): { low: number; high: number } => ({
  low: combs[type].sideDm2 * 2 * beesPerDm2.uncrowded,
  high: combs[type].sideDm2 * 2 * beesPerDm2.dense,
})
