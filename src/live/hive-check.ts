import type { InspectionRecord } from '../record/schema.ts'
import type { Ask, Finding } from '../rules/finding.ts'

/** Something that the rules lack for a hive and a keeper at the open hive can say. */
export interface Lacking {
  readonly hive: string
  readonly field: string
  /** In a few words, to be spoken: `eggs`, `queen cells, open or capped`. */
  readonly short: string
  /** As a sentence. */
  readonly ask: string
  readonly priority: Ask['priority']
}

/**
 * What can be told with gloves on and the hive open, and how it is asked for in a few words. What needs a laboratory, a scale, a
 * calendar or the yard file is not asked for here. The order is that of the asking, among equals.
 */
const AT_THE_HIVE: Readonly<Record<string, string>> = {
  'eggs.present': 'eggs',
  'queenCells.present': 'queen cells',
  'queen.seen': 'the queen',
  'queenCells.stage': 'queen cells, open or capped',
  'queenCells.kind': 'where the queen cells hang',
  'eggs.multiplePerCell': 'one egg to a cell, or several',
  'larvae.present': 'young larvae',
  'brood.pattern': 'the brood pattern',
  'sign.sunkenCappings': 'the cappings, and any smell',
  'sign.chilledBrood': 'chilled or dead brood',
  'sign.chalkbrood': 'mummies or dead larvae',
  'sign.deformedWings': 'crippled or crawling bees',
  'frames.brood': 'frames of brood',
  'cappedBrood.present': 'capped brood',
  'stores.level': 'the stores',
  'frames.bees': 'frames of bees',
  population: 'how strong it is',
  temperament: 'the temper',
  'pest.smallHiveBeetle.count': 'hive beetles',
  'pest.smallHiveBeetle.larvae': 'beetle larvae or slime',
  'pest.waxMoth.level': 'wax moth',
  'excluder.present': 'excluder, and brood above it',
  'boxes.super': 'how many supers',
  'frames.honey': 'frames of honey',
  'frames.cappedHoney': 'capped frames in the super',
  'honey.cappedPercent': 'how much of the honey is capped',
  'sign.backfilled': 'nectar in the brood nest',
  'sign.robbing': 'robbing',
  'colony.dead': 'is it alive',
  'queen.state': 'what became of the queen',
}
const order = Object.keys(AT_THE_HIVE)
const rank: Record<Ask['priority'], number> = { first: 0, soon: 1, optional: 2 }

/**
 * What the rules still lack for one hive, each field once, what a colony may hang on first. `findings` are those of that hive.
 */
export function lackingFor(
  hive: string,
  record: Pick<InspectionRecord, 'hives'>,
  findings: readonly Finding[],
): Lacking[] {
  if (!record.hives.some((one) => one.hive === hive)) return []
  const wanted = new Map<string, Lacking>()
  for (const finding of findings) {
    if (finding.place.hive !== hive) continue
    for (const { field, ask, priority } of finding.missing) {
      const short = AT_THE_HIVE[field]
      if (short === undefined || priority === 'optional') continue
      const known = wanted.get(field)
      if (!known || rank[priority] < rank[known.priority]) wanted.set(field, { hive, field, short, ask, priority })
    }
  }
  // either tells whether they have enough to eat
  if (wanted.has('stores.level')) wanted.delete('frames.honey')
  return [...wanted.values()].sort(
    (a, b) => rank[a.priority] - rank[b.priority] || order.indexOf(a.field) - order.indexOf(b.field),
  )
}
