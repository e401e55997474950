import { broodFacts } from './brood-facts.ts'
import { daysBetween } from './calendar.ts'
import { castes, lastLaid } from './development.ts'
import type { HiveView, Placed } from './hive-view.ts'
import { says } from './look.ts'
import { queenGap, queenSigns } from './queen-facts.ts'
import { ask } from './questions.ts'
import { type Answer, defineRule, known, num } from './rule.ts'
import { seasonOf } from './season.ts'

/** No queen? The youngest stage of brood tells how long ago a queen last laid. Not seeing her means little. */
export const queenMissing = defineRule({
  id: 'queen-missing',
  title: 'Is the queen missing?',
  kind: 'alarm',
  verdicts: ['none', 'cannot tell', 'watch', 'act'],
  needs: [
    'eggs.present',
    'larvae.present',
    'cappedBrood.present',
    'queen.seen',
    'queen.state',
    'queenright',
    'layingWorkers',
  ],
  numbers: {
    hatches: known(castes.worker.hatches, 'days', 'wade-2022', 'eggs seen: a queen laid within this many days'),
    sealed: known(castes.worker.sealed, 'days', 'wade-2022', 'only capped brood: no queen laid for at least this long'),
    emerges: known(
      castes.worker.emerges,
      'days',
      'morse-1996',
      'no brood at all: no queen laid for at least this long',
    ),
    worryFromLoss: num(33, 'days', 'norfolk-new-queen', 'from losing the queen: no eggs by then is a worry'),
    worryFromSealing: num(29, 'days', 'norfolk-new-queen', 'from the sealing of her cell: no eggs by then is a worry'),
  },
  sources: ['wade-2022', 'morse-1996', 'norfolk-new-queen', 'macfawn-splits'],
  cautions: [],
  judge(hive, n) {
    const { eggs, larvae, sealed } = broodFacts(hive)
    const queen = queenSigns(hive)
    const workers = says(hive, 'layingWorkers')
    // Eggs of laying workers are no sign of a queen.
    const stages = { eggs: workers.is === true ? false : eggs.is, larvae: larvae.is, sealed: sealed.is }
    const window = lastLaid(stages)
    const laid =
      workers.is === true
        ? 'brood of laying workers tells nothing of a queen'
        : !window
          ? 'the youngest brood was not said'
          : window.atMost === null
            ? `no egg for ${window.atLeast} days or more`
            : `the last egg was laid ${window.atLeast} to ${window.atMost} days ago`
    const by = [
      ...eggs.by,
      ...larvae.by,
      ...sealed.by,
      ...queen.seen.by,
      ...queen.right.by,
      ...queen.state.by,
      ...workers.by,
    ]
    const testFrame =
      'Give a frame of eggs and young larvae from a healthy hive: cells on it in four days mean no queen.'
    if (workers.is === true && queen.seen.is !== true)
      return alarm('act', 'Workers are laying: there is no queen.', laid, 'See the rule on laying workers.', by)
    if (queen.absent) {
      if (stages.eggs || queen.seen.is)
        return alarm(
          'watch',
          'Called queenless, yet there are signs of a queen.',
          `${laid}; both cannot hold`,
          'Look for eggs again.',
          by,
        )
      return alarm('act', 'The keeper judged the colony queenless.', laid, testFrame, by)
    }
    if (stages.eggs) return alarm('none', 'A queen was laying within 3 days.', laid, '', by)
    const noOpen = stages.larvae === false && stages.eggs === false
    if (queen.seen.is || queen.there) {
      const quiet = !noOpen || queen.state.is.has('virgin') || queen.state.is.has('caged')
      return quiet
        ? alarm('none', 'The queen is there.', laid, '', by)
        : alarm(
            'watch',
            'The queen is there and does not lay.',
            laid,
            'Look for eggs in a week; feed if there is a dearth.',
            by,
          )
    }
    if (!window) {
      const denied = queen.right.is === true ? ' The keeper counts it queenright.' : ''
      if (queen.right.is === true) return alarm('none', 'Judged queenright.', `said outright;${denied}`, '', by)
      return unsure(hive, laid, by)
    }
    if (stages.eggs === undefined)
      return queen.right.is === true
        ? alarm('none', 'Judged queenright.', laid, '', by)
        : unsure(hive, laid, by, queen.seen.is === false && noLarvae(stages))
    if (stages.larvae)
      return alarm('watch', 'Larvae but no eggs.', laid, 'Look again for eggs and for queen cells within 4 days.', by)
    const waiting = queenGap(hive)
    if (waiting && hive.date) {
      const days = daysBetween(waiting.date, hive.date)
      const patience = waiting.kind === 'loss' ? n.worryFromLoss : n.worryFromSealing
      if (days < patience)
        return alarm(
          'watch',
          'No eggs yet, which is normal.',
          `${days} days since ${waiting.words}; worry from day ${patience}`,
          'Leave it closed while the young queen mates.',
          [...by, ...waiting.by],
        )
    }
    if (stages.larvae === undefined)
      return alarm('watch', 'No eggs.', laid, 'Look for young larvae too.', by, [ask(hive, 'larvae.present', 'first')])
    if (seasonOf(hive.date, hive.settings) === 'winter')
      return alarm(
        'watch',
        'No young brood, which is usual in winter.',
        laid,
        'Look again when the first pollen comes in.',
        by,
      )
    return alarm('act', 'No eggs and no young brood.', laid, testFrame, by)
  },
})

const noLarvae = (stages: { larvae?: boolean | undefined }) => stages.larvae === false

type Verdict = 'none' | 'watch' | 'act' | 'cannot tell'
const alarm = (
  verdict: Verdict,
  what: string,
  why: string,
  next: string,
  restsOn: readonly Placed[],
  missing: Answer['missing'] = [],
): Answer[] => [{ verdict, what, why, next, restsOn, missing }]

function unsure(hive: HiveView, why: string, restsOn: readonly Placed[], grave = false): Answer[] {
  const question = ask(hive, 'eggs.present', 'first')
  const what = 'Whether there is a laying queen is open.'
  return alarm(grave ? 'watch' : 'cannot tell', what, why, question.ask, restsOn, [question])
}
