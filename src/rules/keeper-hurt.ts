import { amount } from './look.ts'
import { ask } from './questions.ts'
import { defineRule, num } from './rule.ts'

/** People first. Words are matched loosely, for a recogniser may have heard them badly. */
const danger =
  /(can'?t|cannot|can not|hard|trouble|difficult\w*|struggl\w*) (to )?breath?|short of breath|throat|swollen (face|lips?|tongue|eyes?)|(face|lips?|tongue) (is|are|'s)? ?swell|collaps|passed out|faint(ed|ing)|anaphyla|anna ?fil|epi ?pen|ambulance|stung (in|inside) (the |my |his |her )?(mouth|throat|tongue)|(dizzy|vomit\w*|throwing up)/i

export const keeperHurt = defineRule({
  id: 'keeper-hurt',
  title: 'Was a person hurt?',
  kind: 'alarm',
  wholeVisit: true,
  needs: ['stings', 'remarks'],
  numbers: { many: num(10, 'stings', 'common practice', 'stings in one visit from which a person is watched closely') },
  sources: ['ascia-anaphylaxis', 'ulster-stings'],
  cautions: ['stings'],
  judge(hive, n) {
    const said = hive.remarks.find((remark) => danger.test(remark))
    const next =
      'Leave the hives. Trouble breathing, swelling of face or throat, dizziness, collapse or vomiting: call the emergency number now.'
    if (said) return [{ verdict: 'urgent', what: 'Somebody may be in danger.', why: `“${said}”`, next }]
    const views = [hive, ...hive.yard.values()]
    const counts = new Map(
      views.flatMap((view) => amount(view, 'stings')?.by ?? []).map((placed) => [placed.reading, placed]),
    )
    const restsOn = [...counts.values()]
    const stings = restsOn.reduce((sum, { value }) => sum + (typeof value === 'number' ? value : 0), 0)
    if (stings >= n.many)
      return [
        {
          verdict: 'act',
          what: 'Many stings.',
          why: `${stings} stings`,
          next: `Watch the person for some hours. ${next}`,
          restsOn,
        },
      ]
    if (stings > 0)
      return [
        {
          verdict: 'watch',
          what: 'Somebody was stung.',
          why: `${stings} stings`,
          next: 'Flick the sting out at once; watch for anything beyond pain at the spot.',
          restsOn,
        },
      ]
    if (restsOn.length > 0) return [{ verdict: 'none', what: 'Nobody was stung.', why: 'said so', restsOn }]
    return [
      {
        verdict: 'cannot tell',
        what: 'Stings were not spoken of.',
        why: 'nothing said',
        missing: [ask(hive, 'stings', 'optional')],
      },
    ]
  },
})
