import { isDate } from './calendar.ts'
import type { HiveView, Placed } from './hive-view.ts'
import { readings } from './look.ts'
import { ask } from './questions.ts'
import { defineRule } from './rule.ts'

const details = ['.kind', '.amount', '.when', '.detail']
const words = (field: string) => field.replace(/^todo\./, '').replace(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`)

/** What the keeper planned aloud, with its day; a later visit in which it was done settles it. */
export const jobsDue = defineRule({
  id: 'jobs-due',
  title: 'Which planned jobs are due?',
  kind: 'when',
  evenUnvisited: true,
  needs: ['todo.*'],
  numbers: {},
  sources: [],
  cautions: [],
  judge(hive) {
    const open = planned(hive)
    for (const [i, visit] of hive.past.entries()) {
      const since = [hive, ...hive.past.slice(0, i)]
      const settled = (job: Placed) =>
        since.some((later) => readings(later, job.reading.field.replace('todo.', 'did.')).length > 0)
      open.push(
        ...planned(visit).filter(
          (job) => !settled(job) && !open.some((one) => one.reading.field === job.reading.field),
        ),
      )
    }
    const dated = open.filter((job) => isDate(job.value))
    const undated = open.filter((job) => !isDate(job.value))
    if (dated.length > 0) {
      const dates = dated.map((job) => ({
        event: words(job.reading.field),
        earliest: String(job.value),
        likely: String(job.value),
        latest: String(job.value),
      }))
      const more =
        undated.length > 0 ? `; without a day: ${undated.map((job) => words(job.reading.field)).join(', ')}` : ''
      return [{ verdict: 'dated', what: 'Jobs are planned.', why: `said so${more}`, restsOn: open, dates }]
    }
    if (undated.length > 0) {
      const what = `Planned without a day: ${undated.map((job) => words(job.reading.field)).join(', ')}.`
      return [
        {
          verdict: 'cannot tell',
          what,
          why: 'no day was said',
          restsOn: undated,
          missing: [ask(hive, 'todo.inspect', 'optional')],
        },
      ]
    }
    return [{ verdict: 'nothing due', what: 'No job was planned.', why: 'nothing said' }]
  },
})

/** Every todo of a visit; the next look has its own rule. */
function planned(hive: HiveView): Placed[] {
  const out: Placed[] = []
  for (const field of hive.byField.keys()) {
    if (!field.startsWith('todo.') || field === 'todo.inspect' || details.some((ending) => field.endsWith(ending)))
      continue
    out.push(...readings(hive, field).filter((placed) => placed.value !== 'no'))
  }
  return out
}
