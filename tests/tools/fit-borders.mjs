// Learns where clauses begin in talk without marks, from the marks of punctuated notes for work; writes src/language/borders.json.
// usage: node tests/tools/fit-borders.mjs [--folds]     --folds: only prints how well borders of notes not learned from are found
import { readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { parseArgs } from 'node:util'
import { documents, hash, usageOf } from './hearing.mjs'
import { hiveNotes, isKept } from './hive-notes.mjs'
import { bare, notesOf } from './labelled.mjs'
import { load } from './load.mjs'
import { rates, scoreReadings } from './score-readings.mjs'

/** A comma is half a full stop: whoever writes sets one or the other. */
const COMMA = 0.5
/** A phrase of the tables counts so much: it stands alone. */
const OF_PHRASE = 0.5
/** How strongly weights are drawn to zero, straight and squared; a cue that is rarer is not looked at. */
const TO_ZERO = 4
const TO_ZERO_SQUARED = 0.02
const LEAST_SEEN = 3
const ROUNDS = 16
const FOLDS = 4
/** A note with fewer marks than one to so many words teaches nothing. */
const MARKED = 12

const root = new URL('../../', import.meta.url)
const inside = await load('tests/tools/inside.ts')
const foldOf = (name) => hash(name) % FOLDS

/** Texts with marks: name, transcript as written, the same bare, what a word counts. */
function* texts(labelled) {
  for (const { note, inputs } of labelled) yield { name: note, written: inputs.written, said: inputs.bare, share: 1 }
  const plain = function* (dir, isOurs) {
    for (const file of readdirSync(new URL(dir, root))) {
      if (!isOurs(file)) continue
      const written = inside.openTranscript(readFileSync(new URL(dir + file, root)), file)
      const spoken = written.segments.map(({ start, end }) => written.text.slice(start, end)).join(' ')
      yield { name: file, written, said: bare(spoken), share: 1 }
    }
  }
  yield* plain('fixtures/own/w/', (file) => file.endsWith('.txt') && Number(/\d+/.exec(file)[0]) % 3 !== 0)
  yield* plain('fixtures/notes/', (file) => /^\d/.test(file))
  for (const { name, stretches } of hiveNotes(root)) {
    const text = stretches.map(({ said }) => said).join('')
    if (!isKept(name)) yield { name, written: text, said: bare(text), share: 1 }
  }
  for (const file of readdirSync(new URL('fixtures/phrases/', root))) {
    if (!file.endsWith('.txt')) continue
    for (const line of readFileSync(new URL(`fixtures/phrases/${file}`, root), 'utf8').split('\n')) {
      const [text] = line.split(' => ')
      if (!line.startsWith('#') && /[.,!?;]/.test(text.slice(0, -1)))
        yield { name: text, written: text, said: bare(text), share: OF_PHRASE }
    }
  }
}

const wordsOf = (text) =>
  inside
    .splitUtterances(typeof text === 'string' ? inside.openTranscript(text, 'note.txt') : text, inside.english())
    .flatMap(({ words }) => words)

/** For each word of the bare text the border before it in the text as written: 0 none, 2 comma, 3 full stop, -1 not known. */
function bordersOf(words, written) {
  const letters = ({ said }) => said.toLowerCase()
  let next = 0
  return words.map((word) => {
    const at = written.slice(next, next + 12).findIndex((other) => letters(other) === letters(word))
    if (at < 0) return -1
    const strongest = Math.max(...written.slice(next, next + at + 1).map(({ brk }) => brk))
    next += at + 1
    return strongest < 2 ? 0 : strongest
  })
}

function examples(labelled, usageFor) {
  const out = []
  for (const { name, written, said, share } of texts(labelled)) {
    const marked = wordsOf(written)
    if (marked.filter(({ mark }) => mark !== '').length * MARKED < marked.length) continue
    const words = wordsOf(said)
    const borders = bordersOf(words, marked)
    const run = new inside.Run(words, usageFor(name, share))
    const due = run.at.map((to, k) => Math.max(...borders.slice(k === 0 ? 0 : run.at[k - 1] + 1, to + 1)))
    out.push({ name, share, run, due })
  }
  return out
}

/** Gaps between words as rows: the cues, what is due, what it counts. The last border is where it truly is. */
function rowsOf(notes) {
  const rows = []
  for (const { run, due, share } of notes) {
    let since = 1
    let verb = false
    for (let k = 1; k < run.at.length; k++) {
      verb ||= run.isVerb(k - 1)
      if (due[k] >= 0) rows.push({ at: [...new Set(run.cues(k, since, verb))], y: [0, 0, COMMA, 1][due[k]], share })
      since++
      if (due[k] === 3) {
        since = 1
        verb = false
      }
    }
  }
  return rows
}

/** Logistic regression, weight by weight (coordinate descent with soft thresholds), in whole steps. */
function learn(notes) {
  const rows = rowsOf(notes)
  const of = Array.from({ length: inside.SPREAD }, () => [])
  rows.forEach(({ at }, row) => {
    for (const cue of at) of[cue].push(row)
  })
  const [bias] = rows[0].at
  const cues = [...of.keys()].filter((cue) => of[cue].length >= LEAST_SEEN).sort((a, b) => of[b].length - of[a].length)
  const weights = new Float64Array(inside.SPREAD)
  const sums = new Float64Array(rows.length)
  for (let round = 0; round < ROUNDS; round++)
    for (const cue of round % 5 === 0 ? cues : cues.filter((one) => weights[one] !== 0)) {
      let slope = TO_ZERO_SQUARED * weights[cue]
      let bend = TO_ZERO_SQUARED
      for (const row of of[cue]) {
        const p = 1 / (1 + Math.exp(-sums[row]))
        slope += rows[row].share * (p - rows[row].y)
        bend += rows[row].share * Math.max(p * (1 - p), 0.02)
      }
      const free = weights[cue] - slope / bend
      const shrunk = Math.sign(free) * Math.max(0, Math.abs(free) - (cue === bias ? 0 : TO_ZERO) / bend)
      const change = Math.max(-2, Math.min(2, shrunk - weights[cue]))
      weights[cue] += change
      if (change !== 0) for (const row of of[cue]) sums[row] += change
    }
  return Int8Array.from(weights, (weight) => Math.round(weight / inside.STEP))
}

/** The best F1 of any threshold, with precision and recall. */
function bestF1(pairs) {
  const all = pairs.filter(([, y]) => y).length
  let right = 0
  let best = { f1: 0 }
  pairs
    .sort(([a], [b]) => b - a)
    .forEach(([odds, y], n) => {
      right += y ? 1 : 0
      const f1 = (2 * right) / (n + 1 + all)
      if (f1 > best.f1) best = { f1, precision: right / (n + 1), recall: right / all, odds }
    })
  return Object.entries(best)
    .map(([name, x]) => `${name} ${x.toFixed(name === 'odds' ? 2 : 3)}`)
    .join('  ')
}

const labelled = notesOf(inside, root, 'fit')
const ofWork = new Set(labelled.map(({ note }) => note))
// how the trade talks is drawn from the same notes: each is weighed by the talk of the others
const docs = documents(inside, root, labelled)
const common = inside.englishVocabulary().common
const usages = Array.from(
  { length: FOLDS },
  (_, fold) => new inside.Usage(usageOf(docs.filter(({ name }) => !ofWork.has(name) || foldOf(name) !== fold)), common),
)
const notes = examples(labelled, (name) => usages[foldOf(name)])
const { values: asked } = parseArgs({ options: { folds: { type: 'boolean' } } })
if (asked.folds) {
  const pairs = []
  const read = new Map()
  for (let fold = 0; fold < FOLDS; fold++) {
    const weights = learn(notes.filter(({ name }) => foldOf(name) !== fold))
    for (const { run, due, share, name } of notes)
      if (share === 1 && foldOf(name) === fold)
        inside.weighBorders(run, weights).forEach((odds, k) => {
          if (k > 0 && due[k] >= 0) pairs.push([odds, due[k]])
        })
    inside.weighBordersBy(weights)
    for (const { note, gold, inputs } of labelled)
      if (foldOf(note) === fold)
        read.set(note, inside.flatten(inside.readNote(inputs.bare, { name: note, date: gold.date })))
  }
  for (const [what, change] of [
    ['readings', (fact) => fact],
    ['their hive ignored', (fact) => ({ ...fact, hive: '' })],
  ]) {
    const golds = labelled.map(({ gold }) => ({
      ...gold,
      facts: gold.facts.map(change),
      optional: (gold.optional ?? []).map(change),
    }))
    const of = new Map([...read].map(([note, readings]) => [note, readings.map(change)]))
    const { total, placement } = scoreReadings(golds, of)
    const { f1, precision, recall } = rates(total)
    const placed = `${placement.right} of ${placement.of} placed`
    console.log([what, ...[f1, precision, recall].map((x) => (100 * x).toFixed(1)), placed].join('  '))
  }
  console.log(`sentences ${bestF1(pairs.map(([odds, due]) => [odds, due === 3]))}`)
  console.log(`clauses   ${bestF1(pairs.map(([odds, due]) => [odds, due >= 2]))}`)
} else {
  const packed = inside.packBorders(learn(notes))
  console.log(`${packed.sizes.length} weights of ${notes.length} texts`)
  writeFileSync(new URL('src/language/borders.json', root), `${JSON.stringify(packed, null, 2)}\n`)
}
