// What is left of the labelled notes that are worked with when a recogniser mishears more and more of them.
// usage: npm run score -- --noisy [--levels 0,5,10,20,30] [--rounds N]     writes fixtures/NOISE.md and fixtures/noise.svg
import { writeFileSync } from 'node:fs'
import { parseArgs } from 'node:util'
import { notesOf } from './labelled.mjs'
import { load } from './load.mjs'
import { noisyChannel, wordErrors } from './noise.mjs'
import { noisePlot } from './noise-plot.mjs'
import { rates, scoreReadings } from './score-readings.mjs'

const root = new URL('../../', import.meta.url)
const { values: asked } = parseArgs({
  options: {
    noisy: { type: 'boolean' },
    levels: { type: 'string', default: '0,5,10,20,30' },
    rounds: { type: 'string', default: '2' },
    dry: { type: 'boolean' },
    wrong: { type: 'boolean' },
  },
})
const levels = asked.levels.split(',').map(Number)
const rounds = Number(asked.rounds)
const inside = await load('tests/tools/inside.ts')
const noise = noisyChannel(root)
const notes = notesOf(inside, root, 'fit').map(({ note, gold, inputs }) => {
  const { text, segments } = inputs.written
  return { note, gold, spoken: segments.map(({ start, end }) => text.slice(start, end)).join('\n'), bare: inputs.bare }
})

/** All notes at one level, both with punctuation and bare, in as many rounds as differ. */
function at(level) {
  const out = { written: { errors: 0, words: 0, results: [] }, bare: { errors: 0, words: 0, results: [] } }
  for (const form of ['written', 'bare'])
    for (let round = 0; round < (level === 0 ? 1 : rounds); round++) {
      const readings = new Map()
      const golds = []
      for (const { note, gold, spoken, bare } of notes) {
        const said = form === 'bare' ? bare : spoken
        const heard = level === 0 ? said : noise(said, level / 100, `${note} ${level} ${round} ${form}`)
        const count = level === 0 ? { errors: 0, words: 1 } : wordErrors(said, heard)
        out[form].errors += count.errors
        out[form].words += count.words
        readings.set(note, inside.flatten(inside.readNote(heard, { name: note, date: gold.date })))
        golds.push(gold)
      }
      out[form].results.push(scoreReadings(golds, readings))
    }
  return Object.entries(out).map(([form, { errors, words, results }]) => {
    const sum = (pick) => results.reduce((total, result) => total + pick(result), 0)
    const total = { right: 0, wrong: 0, missed: 0 }
    for (const key of Object.keys(total)) total[key] = sum((result) => result.total[key])
    const sure = sum((r) => r.flags.sure)
    const wrong = results.flatMap((r) => r.judged.filter((j) => !j.isRight && j.flag === 'sure').map((j) => j.reading))
    return {
      level,
      form,
      wordError: (100 * errors) / words,
      f1: 100 * rates(total).f1,
      sure: 100 * (1 - sum((r) => r.flags.sureButWrong) / (sure || 1)),
      sureShare: (100 * sure) / sum((r) => r.flags.judged),
      review: (100 * sum((r) => r.flags.toReview)) / sum((r) => r.flags.judged),
      wrong,
    }
  })
}

const rows = levels.flatMap(at)
const clean = (form) => rows.find((row) => row.form === form && row.level === 0)?.f1
const one = (x) => x.toFixed(1)
const cells = rows.map((r) => [
  r.form,
  String(r.level),
  one(r.wordError),
  one(r.f1),
  clean(r.form) === undefined ? '-' : one(clean(r.form) - r.f1),
  one(r.sure),
  one(r.review),
])
const head = ['form', 'words hit, %', 'word error, %', 'F1, %', 'below clean', 'sure and right, %', 'to review, %']
for (const row of [head, ...cells]) console.log(row.map((cell) => cell.padStart(18)).join(''))
if (asked.wrong)
  for (const r of rows)
    for (const w of r.wrong)
      console.log(
        `${r.level} ${r.form} · hive "${w.hive}" · ${w.field} = ${JSON.stringify(w.value)} ${w.confidence} «${w.quote}»`,
      )
if (!asked.dry && asked.levels === '0,5,10,20,30') {
  writeFileSync(
    new URL('fixtures/NOISE.md', root),
    `# Misheard notes

Written by \`npm run score -- --noisy\`: the labelled notes that are worked with, after a seeded model of what recognisers
mishear (\`tests/tools/noise.mjs\`), ${rounds} rounds a level. "Bare" is lower case without punctuation. "Sure and right" is the
share of right values among those marked \`sure\`.

${[head, head.map(() => '---'), ...cells].map((row) => `| ${row.join(' | ')} |`).join('\n')}

![F1 and right among sure against word error](noise.svg)
`,
  )
  writeFileSync(new URL('fixtures/noise.svg', root), noisePlot(rows))
}
