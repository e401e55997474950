import { daysBetween } from './calendar.ts'
import type { HiveView } from './hive-view.ts'
import { amount, says, word, words } from './look.ts'
import { ask } from './questions.ts'
import { defineRule, num } from './rule.ts'
import { seasonOf } from './season.ts'

/** Reasons to change the queen: she fails, lays only drones, her brood is spotty again, or her bees are not fit to live with. */
export const requeenWanted = defineRule({
  id: 'requeen-wanted',
  title: 'Replace the queen?',
  kind: 'ready',
  needs: ['queen.state', 'brood.pattern', 'temperament', 'queen.year', 'eggs.present'],
  numbers: {
    oldQueen: num(3, 'years', 'common practice', 'age at which a queen is replaced before she fails'),
    again: num(60, 'days', 'common practice', 'how far back a spotty pattern counts as the same trouble'),
  },
  sources: ['evans-spotty', 'coloss-temper'],
  cautions: [],
  judge(hive, n) {
    const state = words(hive, 'queen.state')
    const pattern = word(hive, 'brood.pattern')
    const temper = word(hive, 'temperament')
    const year = amount(hive, 'queen.year')
    const age = year && hive.date ? Number(hive.date.slice(0, 4)) - year.likely : undefined
    const before = hive.past.filter((visit) => near(visit, hive, n.again))
    const spottyAgain = pattern.is === 'spotty' && before.some((visit) => word(visit, 'brood.pattern').is === 'spotty')
    const meanAgain =
      temper.is === 'aggressive' && before.some((visit) => word(visit, 'temperament').is === 'aggressive')
    const reasons: string[] = []
    const restsOn = [...state.by, ...pattern.by, ...temper.by, ...(year?.by ?? [])]
    if (state.is.has('droneLaying')) reasons.push('she lays only drones')
    if (state.is.has('failing')) reasons.push('she is failing')
    if (spottyAgain) reasons.push('the brood is spotty for the second visit')
    if (meanAgain) reasons.push('the bees are aggressive for the second visit')
    if (age !== undefined && age >= n.oldQueen) reasons.push(`she is ${age} years old`)
    if (reasons.length > 0) {
      const winter = seasonOf(hive.date, hive.settings) === 'winter'
      const next = winter
        ? 'Order a queen for spring; no queen can be introduced well in winter.'
        : 'Get a mated queen, or unite with a colony that has one; rule out disease and mites first.'
      return [{ verdict: 'yes', what: 'Replace the queen.', why: reasons.join('; '), next, restsOn }]
    }
    const good =
      state.is.has('laying') || pattern.is === 'solid' || pattern.is === 'fair' || says(hive, 'queenright').is === true
    if (good && temper.is !== 'aggressive' && pattern.is !== 'spotty')
      return [{ verdict: 'no', what: 'Keep the queen.', why: 'nothing said speaks against her', restsOn }]
    const why =
      pattern.is === 'spotty' || temper.is === 'aggressive'
        ? 'seen once; look again before deciding'
        : 'her laying was not described'
    const missing = [ask(hive, pattern.is ? 'queen.state' : 'brood.pattern', 'optional')]
    return [{ verdict: 'cannot tell', what: 'Whether to replace the queen is open.', why, restsOn, missing }]
  },
})

const near = (visit: HiveView, hive: HiveView, days: number) =>
  visit.date !== null && hive.date !== null && daysBetween(visit.date, hive.date) <= days
