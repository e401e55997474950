import { diseaseSigns, runningMites, whomToTell } from './disease-facts.ts'
import { ask } from './questions.ts'
import { defineRule, known } from './rule.ts'

const grave = new Set(['sign.americanFoulbrood', 'sign.europeanFoulbrood', 'sign.ropyLarvae'])
const running = /tropilaelaps|(fast|quick)[- ]?(running|moving) mites|mites? (that )?(run|runs|running) (fast|quick)/i

/**
 * Signs that could be a brood disease which must be told by law. No disease is named as certain: a keeper cannot, and a
 * program cannot. The bar is low, because a miss is worse than a call.
 */
export const diseaseSuspected = defineRule({
  id: 'disease-suspected',
  title: 'Could this be a notifiable brood disease?',
  kind: 'alarm',
  verdicts: ['none', 'cannot tell', 'act', 'urgent'],
  evenDead: true,
  needs: [
    'sign.sunkenCappings',
    'sign.ropyLarvae',
    'sign.foulSmell',
    'sign.americanFoulbrood',
    'sign.europeanFoulbrood',
  ],
  numbers: {
    rope: known(
      10,
      'mm',
      'qld-afb',
      'any thread this long in the matchstick test is a suspicion; no thread clears nothing',
    ),
  },
  sources: [
    'brood-signs-2019',
    'qld-afb',
    'vic-notifiable',
    'uk-bee-health',
    'ni-bee-health',
    'nz-afb',
    'au-reporting',
    'ontario-registry',
    'ny-174',
    'woah-code',
    'nsba-foulbrood',
  ],
  cautions: ['notifiable'],
  judge(hive) {
    const signs = diseaseSigns(hive)
    const fast = runningMites(hive)
    const inWords = hive.remarks.find((remark) => running.test(remark))
    const restsOn = [...signs.grave, ...fast]
    const call = whomToTell(hive.settings.country)
    const next =
      'Stop. Close the hive and narrow its entrance (do not seal live bees in). Move nothing: no bees, comb, honey or tools. ' +
      `Clean tools, change gloves before the next hive, take photographs, mark the hive, and call ${call}.`
    const said = signs.grave.map(({ reading }) => `“${reading.quote}”`).join(', ')
    if (fast.length > 0 || inWords)
      return [
        {
          verdict: 'urgent',
          what: 'Mites that run fast over the comb: a pest that must be told.',
          why: inWords ?? 'said so',
          next,
          restsOn,
        },
      ]
    if (signs.grave.some(({ reading }) => grave.has(reading.field)) || signs.grave.length > 1)
      return [{ verdict: 'urgent', what: 'Signs that could be a notifiable brood disease.', why: said, next, restsOn }]
    if (signs.grave.length === 1)
      return [
        {
          verdict: 'act',
          what: 'A sign that could be a notifiable brood disease.',
          why: said,
          next: `Do the matchstick test on a sunken cell. If in doubt: ${next}`,
          restsOn,
        },
      ]
    if (signs.denied.length > 0)
      return [
        {
          verdict: 'none',
          what: 'No sign of foulbrood was seen.',
          why: 'looked for and not seen; that is no proof',
          restsOn: signs.denied,
        },
      ]
    return [
      {
        verdict: 'cannot tell',
        what: 'Cappings and smell were not spoken of.',
        why: 'nothing said',
        missing: [ask(hive, 'sign.sunkenCappings', 'optional')],
      },
    ]
  },
})
