import { broodFacts } from './brood-facts.ts'
import { daysBetween } from './calendar.ts'
import { cellFacts } from './cell-facts.ts'
import type { HiveView, Placed } from './hive-view.ts'
import { readings, says, words } from './look.ts'

/** Something after which a colony is without a laying queen for a while. */
export interface QueenGap {
  readonly kind: 'loss' | 'sealed' | 'emerged'
  readonly words: string
  readonly date: string
  readonly by: readonly Placed[]
}

/**
 * The newest event of the last 60 days that starts a wait for a new queen to lay, unless a later visit (or this one,
 * with the event before it) saw eggs.
 */
export function queenGap(hive: HiveView): QueenGap | undefined {
  for (const visit of [hive, ...hive.past]) {
    const gap = visit.date ? gapOf(visit, visit.date) : undefined
    if (gap && hive.date && daysBetween(gap.date, hive.date) <= 60) return gap
    if (broodFacts(visit).eggs.is === true) return undefined
  }
  return undefined
}

function gapOf(visit: HiveView, date: string): QueenGap | undefined {
  const cells = cellFacts(visit)
  const state = words(visit, 'queen.state')
  const event = words(visit, 'queen.event')
  const given = yes(visit, 'did.giveCell')
  if (state.is.has('virgin')) return { kind: 'emerged', words: 'a virgin queen was seen', date, by: state.by }
  if (cells.stages.has('emerged'))
    return { kind: 'emerged', words: 'an emerged queen cell was seen', date, by: cells.by }
  if (given.length > 0) return { kind: 'sealed', words: 'a queen cell was given', date, by: given }
  const lost = [
    ...yes(visit, 'did.split'),
    ...yes(visit, 'did.killQueen'),
    ...yes(visit, 'sign.swarmed'),
    ...event.by.filter((placed) => placed.value === 'killed'),
  ]
  const cellsOnly = cells.present === true && cells.stages.has('capped')
  if (cellsOnly && broodFacts(visit).eggs.is !== true)
    return { kind: 'sealed', words: 'capped queen cells were seen', date, by: cells.by }
  if (lost.length > 0 && broodFacts(visit).eggs.is !== true)
    return { kind: 'loss', words: 'the colony was split, swarmed or lost its queen', date, by: lost }
  return undefined
}

const yes = (hive: HiveView, field: string): Placed[] =>
  readings(hive, field).filter((placed) => placed.value !== 'no' && placed.value !== 0)

/** Whether anything says that a queen is there: she was seen, her eggs, or the keeper's word. */
export function queenSigns(hive: HiveView) {
  const seen = says(hive, 'queen.seen')
  const right = says(hive, 'queenright')
  const state = words(hive, 'queen.state')
  const there = ['laying', 'virgin', 'caged', 'failing', 'droneLaying'].some((word) => state.is.has(word))
  return { seen, right, state, there, absent: right.is === false || state.is.has('absent') }
}
