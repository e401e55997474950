// What is left of the labelled notes that are worked with when a recogniser mishears more and more of them.
// usage: npm run score -- --noisy [--levels 0,5,10,20,30] [--rounds N]     writes fixtures/NOISE.md and fixtures/noise.svg
import { readFileSync, writeFileSync } from 'node:fs'
import { parseArgs } from 'node:util'
import { ToWords } from 'to-words'
import { documents, hearingData } from './hearing.mjs'
import { notesOf } from './labelled.mjs'
import { load } from './load.mjs'
import { noisyChannel, wordErrors } from './noise.mjs'
import { noisePlot } from './noise-plot.mjs'
import { rates, scoreReadings } from './score-readings.mjs'
import { spoken as forVoice, spokenNotes } from './spoken-notes.mjs'

const root = new URL('../../', import.meta.url)
const { values: asked } = parseArgs({
  options: {
    noisy: { type: 'boolean' },
    levels: { type: 'string', default: '0,5,10,20,30' },
    rounds: { type: 'string', default: '2' },
    every: { type: 'string', default: '1' },
    dry: { type: 'boolean' },
    wrong: { type: 'boolean' },
  },
})
const levels = asked.levels.split(',').map(Number)
const rounds = Number(asked.rounds)
const inside = await load('tests/tools/inside.ts')
const noise = noisyChannel(root)
const all = notesOf(inside, root, 'fit')
const apart = grammarsApart()
const notes = all
  .filter((_, i) => i % Number(asked.every) === 0)
  .map(({ note, gold, inputs }) => {
    const { text, segments } = inputs.written
    return {
      note,
      gold,
      spoken: segments.map(({ start, end }) => text.slice(start, end)).join('\n'),
      bare: inputs.bare,
    }
  })

/**
 * For each note the grammar whose knowledge of the talk was drawn from the other notes alone (in four parts): how words
 * follow one another would else be known from the very note that is tried.
 */
function grammarsApart() {
  const PARTS = 4
  const docs = documents(inside, root, all)
  const grammars = Array.from({ length: PARTS }, (_, part) => {
    const out = new Set(all.filter((_, i) => i % PARTS === part).map(({ note }) => note))
    const data = hearingData(
      inside,
      root,
      docs.filter(({ name }) => !out.has(name)),
    )
    return { ...inside.english(), hearing: { data, ...inside.englishVocabulary() } }
  })
  return new Map(all.map(({ note }, i) => [note, grammars[i % PARTS]]))
}

/** Real speech: what a recogniser wrote of notes spoken by synthetic voices (`speech-heard.mjs`), read and counted. */
function realSpeech() {
  const readings = new Map()
  const golds = []
  const count = { errors: 0, words: 0 }
  const voices = {}
  for (const { note, voice, text, gold, heard } of spokenNotes(root)) {
    const transcript = inside.openTranscript(readFileSync(heard), 'heard.txt')
    const { errors, words } = wordErrors(spelledOut(forVoice(text)), transcript.text)
    voices[voice] ??= { errors: 0, words: 0 }
    for (const sum of [count, voices[voice]]) {
      sum.errors += errors
      sum.words += words
    }
    const grammar = apart.get(note)
    readings.set(
      note,
      inside.flatten(inside.readNote(transcript, { name: note, date: gold.date, ...(grammar && { grammar }) })),
    )
    golds.push(gold)
  }
  const result = scoreReadings(golds, readings)
  const { precision, recall, f1 } = rates(result.total)
  const percent = (x) => `${(100 * x).toFixed(1)} %`
  const byVoice = Object.entries(voices).map(([voice, { errors, words }]) => `${voice} ${percent(errors / words)}`)
  const { sure, sureButWrong } = result.flags
  return [
    `${golds.length} notes, ${count.words} words, word error ${percent(count.errors / count.words)} (${byVoice.join(', ')})`,
    `precision ${percent(precision)}, recall ${percent(recall)}, F1 ${percent(f1)}`,
    `sure ${sure}, of them right ${percent(1 - sureButWrong / (sure || 1))}`,
  ]
}

/** Figures as a voice says them, so that "4" heard as "four" is no error. */
function spelledOut(text) {
  const words = new ToWords({ localeCode: 'en-US' })
  return text.replace(/\d+/g, (figures) => words.convert(Number(figures)).toLowerCase().replaceAll('-', ' '))
}

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
        readings.set(
          note,
          inside.flatten(inside.readNote(heard, { name: note, date: gold.date, grammar: apart.get(note) })),
        )
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
const speech = realSpeech()
console.log(`\nreal speech (flite, four voices; pocketsphinx with its stock model)\n${speech.join('\n')}`)
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
share of right values among those marked \`sure\`. How words follow one another is known from other notes than the one
that is tried.

${[head, head.map(() => '---'), ...cells].map((row) => `| ${row.join(' | ')} |`).join('\n')}

![F1 and right among sure against word error](noise.svg)

## Real speech

Notes of our own, spoken by synthetic voices (flite) and written down by a real recogniser (pocketsphinx, stock model);
what it wrote is in \`fixtures/speech/\`, made anew by \`node tests/tools/speech-heard.mjs --anew\`.

${speech.map((line) => `- ${line}`).join('\n')}
`,
  )
  writeFileSync(new URL('fixtures/noise.svg', root), noisePlot(rows))
}
