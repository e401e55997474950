import type { HiveView, Placed } from './hive-view.ts'
import { amount, readings, says, words } from './look.ts'

/** What was seen of queen cells, cups set apart: every keeper finds cups. */
export interface CellFacts {
  readonly present: boolean | undefined
  readonly stages: ReadonlySet<string>
  readonly kinds: ReadonlySet<string>
  readonly cups: boolean | undefined
  /** Meant to replace a queen and not to swarm: said so, given by the keeper, or raised in a colony called queenless. */
  readonly replacing: boolean
  readonly by: readonly Placed[]
}

export function cellFacts(hive: HiveView): CellFacts {
  const said = says(hive, 'queenCells.present')
  const count = amount(hive, 'queenCells.count')
  const stages = words(hive, 'queenCells.stage')
  const kinds = words(hive, 'queenCells.kind')
  const cups = says(hive, 'queenCups.present')
  const cupCount = amount(hive, 'queenCups.count')
  const live = [...stages.is].some((stage) => stage === 'open' || stage === 'capped')
  let present = said.is
  if ((count && count.low > 0) || live || (said.is === undefined && stages.is.size + kinds.is.size > 0)) present = true
  else if (count && count.high === 0 && said.is === undefined) present = false
  const given = readings(hive, 'did.giveCell').some((placed) => placed.value !== 'no')
  const queenless = says(hive, 'queenright').is === false || words(hive, 'queen.state').is.has('absent')
  const otherKind = kinds.is.has('supersedure') || kinds.is.has('emergency')
  return {
    present,
    replacing: !kinds.is.has('swarm') && (otherKind || given || queenless),
    stages: stages.is,
    kinds: kinds.is,
    cups: (cupCount && cupCount.low > 0) || cups.is,
    by: [...said.by, ...(count?.by ?? []), ...stages.by, ...kinds.by],
  }
}
