import { says } from './look.ts'
import { ask } from './questions.ts'
import { defineRule } from './rule.ts'

export const adultsSick = defineRule({
  id: 'adults-sick',
  title: 'Sick or dying bees?',
  kind: 'alarm',
  verdicts: ['none', 'cannot tell', 'watch', 'act'],
  evenDead: true,
  needs: ['sign.deformedWings', 'sign.dysentery', 'sign.deadBees', 'sign.absconded'],
  numbers: {},
  sources: ['dwv-usda', 'brood-signs-2019'],
  cautions: [],
  judge(hive) {
    const wings = says(hive, 'sign.deformedWings')
    const dysentery = says(hive, 'sign.dysentery')
    const dead = says(hive, 'sign.deadBees')
    const gone = says(hive, 'sign.absconded')
    const all = [wings, dysentery, dead, gone]
    const seen = all.filter((one) => one.is === true)
    const restsOn = all.flatMap((one) => one.by)
    if (wings.is)
      return [
        {
          verdict: 'act',
          what: 'Crippled wings.',
          why: 'a virus that mites carry',
          next: 'Count mites now and treat by the label of a registered product.',
          restsOn,
          cautions: ['label'],
        },
      ]
    if (gone.is)
      return [
        {
          verdict: 'act',
          what: 'The colony has left.',
          why: 'said so',
          next: 'Close the hive against robbing and look at the combs for disease.',
          restsOn,
        },
      ]
    if (seen.length > 1)
      return [
        {
          verdict: 'act',
          what: 'Sick and dead bees.',
          why: 'several signs together',
          next: 'Keep a sample cold and ask your inspector; think of poisoning, hunger and disease.',
          restsOn,
        },
      ]
    if (seen.length === 1)
      return [
        {
          verdict: 'watch',
          what: dysentery.is ? 'Signs of dysentery.' : 'Dead bees.',
          why: 'said so',
          next: 'Look at stores and mites; many dead at once may be poisoning: keep a sample cold and report it.',
          restsOn,
        },
      ]
    if (all.some((one) => one.is === false))
      return [{ verdict: 'none', what: 'No sick bees.', why: 'said so', restsOn }]
    return [
      {
        verdict: 'cannot tell',
        what: 'Sick bees were not spoken of.',
        why: 'nothing said',
        missing: [ask(hive, 'sign.deformedWings', 'optional')],
      },
    ]
  },
})
