import { beetlesForeign, whomToTell } from './disease-facts.ts'
import { pestFacts } from './pest-facts.ts'
import { ask } from './questions.ts'
import { defineRule, num } from './rule.ts'
import { isNucleus, strength } from './strength-facts.ts'

/** Small hive beetle. No published count is a threshold: a strong colony bears what ruins a nucleus. Larvae or slime are red. */
export const beetlesMany = defineRule({
  id: 'beetles-many',
  title: 'Too many hive beetles?',
  kind: 'alarm',
  needs: ['pest.smallHiveBeetle.level', 'pest.smallHiveBeetle.count', 'pest.smallHiveBeetle.larvae', 'population'],
  numbers: {
    few: num(10, 'beetles', 'common practice', 'up to this a full colony copes (chosen from the 2014 trial)'),
    many: num(50, 'beetles', 'beetle-loads-2014', 'full colonies bore 47 (give or take 27) unharmed; more is too many'),
    nucleusMany: num(10, 'beetles', 'beetle-loads-2014', 'more than this is too many for a nucleus'),
  },
  sources: ['ars-beetles', 'qld-beetles', 'beetle-loads-2014'],
  cautions: [],
  judge(hive, n) {
    const pest = pestFacts(hive, 'smallHiveBeetle', [n.few, n.many])
    const small = isNucleus(hive)
    const weak = strength(hive)
    const foreign = beetlesForeign(hive)
    const restsOn = [...pest.by, ...(weak.is === 'weak' ? weak.by : [])]
    const any = pest.larvae === true || (pest.level !== undefined && pest.level !== 'none')
    if (any && foreign)
      return [
        {
          verdict: 'urgent',
          what: 'Hive beetles where they are not known to live.',
          why: 'in your country this pest must be told',
          next: `Close up, keep a beetle in alcohol, move nothing and call ${whomToTell(hive.settings.country)}.`,
          restsOn,
          cautions: ['notifiable'],
        },
      ]
    if (pest.larvae)
      return [
        {
          verdict: 'urgent',
          what: 'Beetle larvae or slime.',
          why: 'larvae spoil honey and comb within days',
          next: 'Freeze or melt the slimed combs, take room away, move the bees to clean combs; extract taken honey within 1 to 2 days.',
          restsOn,
        },
      ]
    if (!pest.level)
      return [
        {
          verdict: 'cannot tell',
          what: 'Hive beetles were not spoken of.',
          why: 'nothing said',
          missing: [ask(hive, 'pest.smallHiveBeetle.count', 'optional')],
        },
      ]
    if (pest.level === 'none') return [{ verdict: 'none', what: 'No hive beetles.', why: 'said so', restsOn }]
    const count = pest.count
      ? `${pest.count.low === pest.count.high ? pest.count.low : `${pest.count.low} to ${pest.count.high}`} beetles`
      : `${pest.level} beetles`
    const tooManyForNucleus =
      small && (pest.level === 'many' || pest.level === 'some' || (pest.count && pest.count.high > n.nucleusMany))
    if (pest.level === 'many' || tooManyForNucleus || (pest.level === 'some' && weak.is === 'weak'))
      return [
        {
          verdict: 'act',
          what: 'Too many hive beetles.',
          why: `${count}${small || weak.is === 'weak' ? ' in a small or weak colony' : ''}; a rule of thumb`,
          next: 'Take empty boxes off, put traps in, look for larvae, and look again within a week.',
          restsOn,
        },
      ]
    if (pest.level === 'some' || weak.is === 'weak')
      return [
        {
          verdict: 'watch',
          what: 'Hive beetles to keep an eye on.',
          why: count,
          next: 'Put a trap in, and look for larvae next time.',
          restsOn,
        },
      ]
    return [{ verdict: 'none', what: 'A few hive beetles.', why: `${count}: the bees cope`, restsOn }]
  },
})
