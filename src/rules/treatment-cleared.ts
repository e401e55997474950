import { ask } from './questions.ts'
import { defineRule, num } from './rule.ts'
import { labelDecides, treatmentOut, treatments, treatmentWords } from './treatment-facts.ts'

/** Treatments in the logbook and honey do not mix unless the label says so; the label is never overruled here. */
export const treatmentCleared = defineRule({
  id: 'treatment-cleared',
  title: 'Do past treatments allow taking honey?',
  kind: 'ready',
  needs: ['did.treat', 'did.treat.kind', 'did.removeTreatment', 'boxes.super'],
  numbers: {
    mayStillWork: num(
      56,
      'days',
      'common practice',
      'how long a treatment may be in the hive; the label says how long',
    ),
  },
  sources: ['formic-leaflet', 'thymol-strip-spc', 'thymol-gel-spc', 'amitraz-leaflet', 'oxalic-us'],
  cautions: ['label'],
  judge(hive, n) {
    const all = treatments(hive)
    const open = (why: string, restsOn = all.flatMap((one) => one.by)) => ({
      verdict: 'cannot tell' as const,
      what: 'Whether treatments allow taking honey is open.',
      why,
      next: 'Read the label: it says whether supers may be on and how long to wait.',
      restsOn,
      missing: [ask(hive, all.length > 0 ? 'did.treat.kind' : 'did.treat')],
    })
    if (hive.past.length === 0 && all.length === 0)
      return [open('there are no earlier visits to look for treatments in')]
    let doubt: ReturnType<typeof open> | undefined
    for (const one of all) {
      const name = treatmentWords[one.kind ?? ''] ?? 'a treatment'
      const when = one.date ?? 'an unknown day'
      if (one.supers.is === true && !labelDecides(one.kind))
        return [
          {
            verdict: 'no',
            what: 'Do not take this honey.',
            why: `${name} was given on ${when} with supers on; labels of this kind want supers off`,
            next: 'Leave the honey to the bees, read the label and ask your inspector if in doubt.',
            restsOn: [...one.by, ...one.supers.by],
          },
        ]
      if (one.supers.is === true) doubt ??= open(`${name} was given on ${when} with supers on: its label decides`)
      else if (one.ago === null || (one.ago < n.mayStillWork && !treatmentOut(hive)))
        doubt ??= open(`${name} of ${when} may still be in the hive`)
      else if (one.supers.is === undefined)
        doubt ??= open(`nobody said whether supers were on when ${name} was given on ${when}`)
    }
    if (doubt) return [doubt]
    const since = hive.past.at(-1)?.date
    return [
      {
        verdict: 'yes',
        what: 'No treatment stands in the way of taking honey.',
        why:
          all.length > 0
            ? 'treatments were given with supers off and are over'
            : `none is in the logbook${since ? ` since ${since}` : ''}`,
        next: 'Check the label once more before you take honey.',
        restsOn: all.flatMap((one) => one.by),
      },
    ]
  },
})
