import { diseaseSigns } from './disease-facts.ts'
import { readings, says } from './look.ts'
import { ask } from './questions.ts'
import { defineRule } from './rule.ts'

/** Comb carried from hive to hive carries disease. Which hive it came from decides how far to look. */
export const framesMoved = defineRule({
  id: 'frames-moved',
  title: 'Were frames moved where disease may be?',
  kind: 'alarm',
  verdicts: ['none', 'cannot tell', 'watch', 'urgent'],
  evenDead: true,
  needs: ['did.moveFrames', 'did.unite', 'moved.from', 'moved.to', 'sign.*'],
  numbers: {},
  sources: ['uk-bee-health', 'arkansas-brood'],
  cautions: ['notifiable'],
  judge(hive) {
    const done = ['did.moveFrames', 'did.unite'].flatMap((field) =>
      readings(hive, field).filter((placed) => placed.value !== 'no' && placed.value !== 0),
    )
    const links = [...readings(hive, 'moved.from'), ...readings(hive, 'moved.to')]
    const restsOn = [...done, ...links]
    if (restsOn.length === 0)
      return [{ verdict: 'none', what: 'No frames were said to be moved.', why: 'nothing said' }]
    const others = links.map((placed) => String(placed.value)).filter((label) => label !== hive.label)
    const all = [hive, ...others.flatMap((label) => hive.yard.get(label) ?? [])]
    const sick = all.flatMap((one) => diseaseSigns(one).grave)
    const ailing = all
      .flatMap((one) => [...says(one, 'sign.chalkbrood').by, ...says(one, 'sign.sacbrood').by])
      .filter((placed) => placed.value === 'yes')
    const which =
      others.length > 0
        ? `moved between ${[hive.label || 'this hive', ...others].join(' and ')}`
        : 'moved, other hive not named'
    if (sick.length > 0)
      return [
        {
          verdict: 'urgent',
          what: 'Comb was moved, and one of the hives has signs of disease.',
          why: which,
          next: 'Treat both hives as suspect: close up, move nothing more, and tell the inspector what was moved.',
          restsOn: [...restsOn, ...sick],
        },
      ]
    if (ailing.length > 0)
      return [
        {
          verdict: 'watch',
          what: 'Comb was moved from or to a hive with sick brood.',
          why: which,
          next: 'Look at the brood of both hives in two weeks.',
          restsOn: [...restsOn, ...ailing],
        },
      ]
    if (others.length === 0)
      return [
        {
          verdict: 'cannot tell',
          what: 'Comb was moved, from where to where was not said.',
          why: which,
          restsOn,
          missing: [ask(hive, 'moved.from')],
        },
      ]
    if (all.every((one) => diseaseSigns(one).denied.length > 0))
      return [{ verdict: 'none', what: 'Comb was moved between hives without signs of disease.', why: which, restsOn }]
    return [
      {
        verdict: 'cannot tell',
        what: 'Comb was moved; whether both broods are healthy was not said.',
        why: which,
        restsOn,
        missing: [ask(hive, 'sign.sunkenCappings')],
      },
    ]
  },
})
