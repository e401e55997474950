import { readings } from './look.ts'
import { boardDrop, miteRate } from './mite-facts.ts'
import { ask } from './questions.ts'
import { defineRule, num } from './rule.ts'

/** This count against the last one: rising, and whether a treatment in between did its work. */
export const mitesRising = defineRule({
  id: 'mites-rising',
  title: 'Are mites on the rise?',
  kind: 'alarm',
  verdicts: ['none', 'cannot tell', 'watch', 'act'],
  needs: ['mites.count', 'mites.sampleBees', 'mites.perHundred', 'mites.dropPerDay', 'did.treat'],
  numbers: { doubled: num(2, 'times', 'common practice', 'a count this many times the last one is a sharp rise') },
  sources: ['coloss-varroa', 'wilson'],
  cautions: [],
  judge(hive, n) {
    const now = miteRate(hive)
    const board = boardDrop(hive)
    const visit = hive.past.find((past) => (now ? miteRate(past) : boardDrop(past)) !== undefined)
    const before = visit && (now ? miteRate(visit)! : boardDrop(visit)!)
    if ((!now && !board) || !before || !visit) {
      const missing = [ask(hive, now || board ? 'history' : 'mites.count', 'optional')]
      return [
        {
          verdict: 'cannot tell',
          what: 'No two counts to compare.',
          why: now || board ? 'no earlier count' : 'no count in this visit',
          missing,
        },
      ]
    }
    const rate = now?.rate ?? board!.perDay
    const was = 'rate' in before ? before.rate : before.perDay
    const between = hive.past.slice(0, hive.past.indexOf(visit) + 1)
    const treated = between.some((past) => readings(past, 'did.treat').length > 0)
    const restsOn = [...(now?.by ?? board!.by), ...before.by]
    const why = `${rate.toFixed(1)} now, ${was.toFixed(1)} on ${visit.date ?? 'an earlier visit'}`
    // A rise is told from chance where the old rate lies under the whole interval of the new one.
    const clear = rate > was && (now?.low === undefined || now.low > was)
    if (treated && rate >= was && rate > 0)
      return [
        {
          verdict: 'act',
          what: 'Mites did not fall after the treatment.',
          why,
          next: 'Ask your inspector or adviser for another active; follow its label.',
          restsOn,
          cautions: ['label'],
        },
      ]
    if (clear && rate >= was * n.doubled)
      return [
        {
          verdict: 'act',
          what: 'Mites are rising sharply.',
          why,
          next: 'Count again in two weeks and plan a treatment.',
          restsOn,
        },
      ]
    if (rate > was)
      return [
        {
          verdict: 'watch',
          what: clear ? 'Mites are rising.' : 'Mites may be rising.',
          why,
          next: 'Count again in two to three weeks.',
          restsOn,
        },
      ]
    return [{ verdict: 'none', what: 'Mites are not rising.', why, restsOn }]
  },
})
