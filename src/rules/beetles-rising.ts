import { amount } from './look.ts'
import { ask } from './questions.ts'
import { defineRule, num } from './rule.ts'

/** Hive beetles from visit to visit: a rise shows weeks before there are too many. */
export const beetlesRising = defineRule({
  id: 'beetles-rising',
  title: 'Are hive beetles on the rise?',
  kind: 'alarm',
  verdicts: ['none', 'cannot tell', 'watch'],
  needs: ['pest.smallHiveBeetle.count'],
  numbers: {
    doubled: num(2, 'times', 'common practice', 'a count this many times the last one is a sharp rise'),
    more: num(5, 'beetles', 'common practice', 'a rise by fewer than this is chance: they hide and run'),
  },
  sources: ['ars-beetles'],
  cautions: [],
  judge(hive, n) {
    const counts = [hive, ...hive.past].flatMap((visit) => {
      const count = amount(visit, 'pest.smallHiveBeetle.count')
      return count ? [{ ...count, date: visit.date, isNow: visit === hive }] : []
    })
    const [now, before, first] = counts
    if (!now?.isNow || !before)
      return [
        {
          verdict: 'cannot tell',
          what: 'No two counts of hive beetles to compare.',
          why: now?.isNow ? 'no earlier count' : 'no count in this visit',
          missing: [ask(hive, now?.isNow ? 'history' : 'pest.smallHiveBeetle.count', 'optional')],
        },
      ]
    const again = first && first.likely < before.likely && before.likely < now.likely ? first : undefined
    const from = again ?? before
    const restsOn = [...now.by, ...before.by, ...(again?.by ?? [])]
    const why = `${now.likely} now, ${from.likely} on ${from.date ?? 'an earlier visit'}`
    const isSharp = now.likely >= before.likely * n.doubled && now.likely - before.likely >= n.more
    if (isSharp || (again && now.likely - again.likely >= n.more))
      return [
        {
          verdict: 'watch',
          what: again ? 'Hive beetles rise from visit to visit.' : 'Hive beetles are rising sharply.',
          why,
          next: 'Put a trap in while they are few, take empty boxes off, and count again within two weeks.',
          restsOn,
        },
      ]
    return [{ verdict: 'none', what: 'Hive beetles are not rising.', why, restsOn }]
  },
})
