import { addDays, daysBetween } from './calendar.ts'
import { dayUnknown } from './day-unknown.ts'
import type { Event } from './finding.ts'
import { readings } from './look.ts'
import { ask } from './questions.ts'
import { defineRule, num } from './rule.ts'
import { treatments, treatmentWords } from './treatment-facts.ts'

/** The next step of a treatment. How often and how long is the label's word; these days only jog the memory. */
export const treatmentDue = defineRule({
  id: 'treatment-due',
  title: 'When is the next step of a treatment due?',
  kind: 'when',
  evenUnvisited: true,
  needs: ['did.treat', 'did.treat.kind', 'did.removeTreatment'],
  numbers: {
    formicCourse: num(7, 'days', 'formic-leaflet', 'formic strips: length of the course'),
    thymolSecond: num(14, 'days', 'from memory', 'thymol: second dose; the label decides'),
    amitrazFrom: num(42, 'days', 'from memory', 'amitraz strips: out from; the label decides'),
    amitrazTo: num(70, 'days', 'from memory', 'amitraz strips: out by; the label decides'),
    recountFrom: num(10, 'days', 'common practice', 'count mites again from this many days after treatment'),
    recountTo: num(14, 'days', 'common practice', 'to this many'),
    forgotten: num(84, 'days', 'common practice', 'older treatments are not reminded of'),
  },
  sources: ['formic-leaflet', 'amitraz-leaflet', 'thymol-gel-spc'],
  cautions: ['label'],
  judge(hive, n) {
    if (!hive.date) return [dayUnknown(hive)]
    const latest = treatments(hive)[0]
    if (!latest) {
      if (hive.past.length === 0)
        return [
          {
            verdict: 'cannot tell',
            what: 'Whether a treatment is running is open.',
            why: 'no treatment was said, and no earlier visit is known',
            missing: [ask(hive, 'did.treat', 'optional')],
          },
        ]
      return [{ verdict: 'nothing due', what: 'No treatment is running.', why: 'none in this or an earlier visit' }]
    }
    const day = latest.date
    const counted = [hive, ...hive.past].some(
      (visit) =>
        visit.date &&
        day &&
        visit.date > day &&
        (readings(visit, 'mites.count').length > 0 || readings(visit, 'mites.perHundred').length > 0),
    )
    if (!day || daysBetween(day, hive.date) > n.forgotten || counted) {
      const why = counted ? 'mites were counted since' : 'the last treatment is long over'
      return [{ verdict: 'nothing due', what: 'No step of a treatment is due.', why, restsOn: latest.by }]
    }
    const on = (days: number) => addDays(day, days)
    const dates: Event[] = []
    let end = 0
    if (latest.kind === 'formicAcid') end = n.formicCourse
    if (latest.kind === 'thymol') {
      dates.push({
        event: 'second dose of thymol, if the label says so',
        earliest: on(n.thymolSecond - 4),
        likely: on(n.thymolSecond),
        latest: on(n.thymolSecond + 7),
      })
      end = n.thymolSecond * 2
    }
    if (latest.kind === 'amitraz') {
      dates.push({
        event: 'take the strips out, as the label says',
        earliest: on(n.amitrazFrom),
        likely: on(n.amitrazFrom),
        latest: on(n.amitrazTo),
      })
      end = n.amitrazFrom
    }
    dates.push({
      event: 'count mites again',
      earliest: on(end + n.recountFrom),
      likely: on(end + Math.round((n.recountFrom + n.recountTo) / 2)),
      latest: on(end + n.recountTo),
    })
    const name = treatmentWords[latest.kind ?? ''] ?? 'a treatment'
    return [
      {
        verdict: 'dated',
        what: 'A treatment wants its next step.',
        why: `${name} was given on ${day}`,
        next: 'The label says how often and how long.',
        restsOn: latest.by,
        dates,
      },
    ]
  },
})
