// A quick look at the labelled notes that may be looked at, with the sources as they are (no build):
// node tests/tools/quick.mjs [--note NAME] [--bare] [--misses] [--field RE]
import { parseArgs } from 'node:util'
import { notesOf } from './labelled.mjs'
import { load } from './load.mjs'
import { calibrationError, rates, scoreReadings } from './score-readings.mjs'

const { values: asked } = parseArgs({
  options: {
    note: { type: 'string' },
    field: { type: 'string', default: '' },
    bare: { type: 'boolean' },
    misses: { type: 'boolean' },
  },
})
const inside = await load('tests/tools/inside.ts')
const notes = notesOf(inside, new URL('../../', import.meta.url), 'fit').filter(
  ({ note }) => asked.note === undefined || note === asked.note,
)
const read = ({ note, gold, inputs }) =>
  inside.flatten(inside.readNote(asked.bare ? inputs.bare : inputs.written, { name: note, date: gold.date }))
const result = scoreReadings(
  notes.map(({ gold }) => gold),
  new Map(notes.map((entry) => [entry.note, read(entry)])),
)
const percent = (x) => `${(100 * x).toFixed(1)} %`
const line = (name, count) => {
  const { precision, recall, f1 } = rates(count)
  console.log(`${name.padEnd(18)}${[precision, recall, f1].map((x) => percent(x).padStart(9)).join('')}`)
}
if (asked.misses) {
  const field = new RegExp(asked.field)
  console.log(result.misses.filter((miss) => field.test(miss)).join('\n'))
}
console.log(`${''.padEnd(18)}precision   recall       F1`)
for (const group of Object.keys(result.groups).sort()) line(group, result.groups[group])
line('all', result.total)
const { sure, sureButWrong } = result.flags
console.log(
  `sure but wrong ${percent(sureButWrong / (sure || 1))}, calibration ${calibrationError(result.judged).toFixed(3)}`,
)
for (const [note, count] of Object.entries(result.notes)
  .sort(([, a], [, b]) => rates(a).f1 - rates(b).f1)
  .slice(0, 6))
  line(note, count)
