import type { Ask } from './finding.ts'
import type { HiveView, Placed } from './hive-view.ts'
import { ask } from './questions.ts'
import type { Answer } from './rule.ts'

/** What every rule that dates something answers where the note has no day. */
export const dayUnknown = (hive: HiveView, restsOn: readonly Placed[] = [], priority?: Ask['priority']): Answer => ({
  verdict: 'cannot tell',
  what: 'No dates without the day of the visit.',
  why: 'the day is not known',
  restsOn,
  missing: [ask(hive, 'visit.date', priority)],
})
