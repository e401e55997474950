import { broodFacts, broodInSupers } from './brood-facts.ts'
import { isSuper, readings, says } from './look.ts'
import { ask } from './questions.ts'
import { defineRule } from './rule.ts'

export const queenAboveExcluder = defineRule({
  id: 'queen-above-excluder',
  title: 'Is the queen above the excluder?',
  kind: 'alarm',
  verdicts: ['none', 'cannot tell', 'watch', 'act'],
  needs: ['excluder.present', 'frame.holds', 'queen.seen', 'eggs.present', 'frames.brood'],
  numbers: {},
  sources: ['swansea-autumn', 'countryfields-supers'],
  cautions: [],
  judge(hive) {
    const excluder = says(hive, 'excluder.present')
    const above = broodInSupers(hive)
    const drones = broodInSupers(hive, ['droneBrood'])
    const restsOn = [...excluder.by, ...above, ...drones]
    if (above.length > 0 && excluder.is)
      return [
        {
          verdict: 'act',
          what: 'Brood or queen above the excluder.',
          why: 'it was seen in a super over an excluder',
          next: 'Find the queen and put her below; brood up there emerges by itself in 21 days, then take the honey.',
          restsOn,
        },
      ]
    if (above.length > 0 && excluder.is === undefined)
      return [
        {
          verdict: 'watch',
          what: 'Brood in a super.',
          why: 'whether an excluder is on was not said',
          next: 'Look whether the queen is above an excluder.',
          restsOn,
          missing: [ask(hive, 'excluder.present')],
        },
      ]
    if (above.length > 0)
      return [
        {
          verdict: 'none',
          what: 'Brood in a super, with no excluder.',
          why: 'the nest may go where it likes',
          restsOn,
        },
      ]
    if (drones.length > 0 && excluder.is !== false)
      return [
        {
          verdict: 'watch',
          what: 'Drone brood in a super.',
          why: 'drones cannot pass an excluder; workers or a queen laid there',
          next: 'Open a way out above, and look for a queen there.',
          restsOn,
        },
      ]
    if (excluder.is === false) return [{ verdict: 'none', what: 'No excluder is on.', why: 'said so', restsOn }]
    const below = ['queen.seen', 'eggs.present', 'larvae.present'].flatMap((field) =>
      readings(hive, field).filter((placed) => placed.value === 'yes' && placed.box !== null && !isSuper(placed.box)),
    )
    const eggs = broodFacts(hive).eggs.by.filter((placed) => placed.box !== null && !isSuper(placed.box))
    if (below.length + eggs.length > 0)
      return [
        {
          verdict: 'none',
          what: 'The queen is below.',
          why: 'she or her brood was seen in the brood box',
          restsOn: [...restsOn, ...below, ...eggs],
        },
      ]
    return [
      {
        verdict: 'cannot tell',
        what: 'Where the queen is was not said.',
        why: 'no brood or queen was named with its box',
        restsOn,
        missing: [ask(hive, 'excluder.present', 'optional')],
      },
    ]
  },
})
