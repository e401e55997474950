// Fits the confidence of readings on the labelled notes and writes src/record/weights.json.
// usage: node tests/tools/calibrate.mjs [--dry] [--features] [--shrink N]
// --dry writes nothing; --features prints how each feature goes with wrong readings; --shrink tries another strength.
//
// Two logistic regressions with shrinkage (src/record/confidence.ts: the value, and its hive), on the notes for work as written and bare. The grammar grew on these notes and reads
// them better than new ones; the model is therefore fitted on readings of a grammar that lacks, for each note, the lines
// that no other note needs. All figures named "cross-validated" are by note as well: no reading is scored by a model, or
// flagged by a cut, that saw its note; and its hives are followed with weights that did not see it (hives.mjs). Notes kept
// out are only counted.
import { readFileSync, writeFileSync } from 'node:fs'
import { parseArgs } from 'node:util'
import { amountsWithout } from './amounts.mjs'
import { inside as ofClauses } from './clauses.mjs'
import { dataOf, dataOfHiveNotes, dataOfPhrases, learnedFrom } from './hives.mjs'
import { judgedReadings, linesOfOneNote, notesOf } from './labelled.mjs'
import { load } from './load.mjs'
import { fitLogistic, sigmoid } from './logistic.mjs'
import { auc, brier, calibrationError, cutFor, flagging, logLoss, reliability, riskAt } from './reliability.mjs'

/** Of the readings flagged as sure, this share may be wrong. */
const MAY_BE_WRONG = 0.01
const FOLDS = 10
/** Seen in fewer readings or notes than this, a feature gets no weight. */
const ENOUGH = { readings: 12, notes: 3 }
/**
 * Strength of the pull towards the prior; a field leans on its group, a group on the common model.
 * Chosen once by cross-validated log loss among 3, 10, 20 and 40; the curve is flat from 10 on.
 */
const SHRINK = { feature: 20, group: 10, field: 12 }
/**
 * Weights that may not turn: a farther repair, an engine in doubt and the like never raise confidence. The labelled
 * notes hold few word confidences of engines, so that those weights stay near their priors, which are set by hand.
 */
const FORCED = {
  repair: { sign: -1, prior: -0.5 },
  unsureEngine: { sign: -1, prior: -3.5, shrink: 200 },
  unsureStretch: { sign: -1, prior: -1, shrink: 200 },
  // set by the model of mishearing (score.mjs --noisy): the labelled notes are clear
  noteStrange: { sign: -1, prior: -3, shrink: 80 },
  deniedAcross: { sign: -1, prior: -2.5, shrink: 100 },
  hiveRepair: { sign: -1, prior: -1.5, shrink: 100 },
  hedged: { sign: -1 },
  weak: { sign: -1 },
  homophone: { sign: -1 },
  loose: { sign: -1 },
  conflict: { sign: -1 },
  boxGuessed: { sign: -1 },
  weakName: { sign: -1 },
  hiveWorth: { sign: 1 },
  hiveMargin: { sign: 1 },
  hiveClose: { sign: -1 },
  hiveRival: { sign: -1 },
  barelyName: { sign: -1 },
  again: { sign: 1 },
  amountFor: { sign: 1 },
  amountAgainst: { sign: -1 },
}

const { values: asked } = parseArgs({
  options: { dry: { type: 'boolean' }, features: { type: 'boolean' }, shrink: { type: 'string' } },
})
if (asked.shrink) SHRINK.feature = Number(asked.shrink)
const root = new URL('../../', import.meta.url)
const inside = await load('tests/tools/leave-out.ts')
/** What follows from other readings is judged with them: the labels do not hold it. */
const read = (notes, optionsFor) => judgedReadings(inside, notes, optionsFor).filter(({ how }) => how !== 'derived')

const notes = notesOf(inside, root, 'fit')
const ownLines = linesOfOneNote(inside, notes)
/** What is learned of clauses and calls from all but these notes: as new notes would be read. */
const coming = amountsWithout('fit')
const calls = learnedFrom([...dataOf('told'), ...dataOfHiveNotes(false), ...dataOfPhrases()])
const amounts = await coming
// it saw none of these notes
const tagger = JSON.parse(readFileSync(new URL('src/clauses/tagger.json', root), 'utf8'))
const learned = { hives: calls, clauses: ofClauses.clauseReader(amounts, tagger, ofClauses.readAmount) }
/** For the fit without those lines of the grammar that only the note needs; for the cuts with them. */
const rows = read(notes, (note) => ({ ...learned, grammar: inside.englishWithout(ownLines.get(note)) }))
const now = read(notes, () => learned)
/** What the reading of a hive tells, and what may have moved a reading to another hive. */
const TELLS_OF_HIVE =
  /^(hive|manyHives|nextHive|names(Between|Passed)|noHive|oneHive|guessedName|weakName|barelyName|severalHives|backToHive|note|sameField|dialogue|unmarked|conflict|near|cue|unread|longUtterance|far|frameInHand|group )/
/** Of the hive alone: nothing that tells whether the value is right. */
const ONLY_OF_HIVE =
  /^(hive(?!Clashes|Repeats)|manyHives|nextHive|names(Between|Passed)|noHive|oneHive|guessedName|weakName|barelyName|severalHives|backToHive)/
const hasHive = ({ features }) => !features['group visit']
const models = [
  {
    part: 'value',
    takes: (name) => !ONLY_OF_HIVE.test(name),
    concerns: () => true,
    learnsFrom: () => true,
    target: (row) => (row.isValueRight ? 1 : 0),
  },
  {
    part: 'hive',
    takes: (name) => TELLS_OF_HIVE.test(name),
    concerns: hasHive,
    learnsFrom: (row) => hasHive(row) && row.isValueRight,
    target: (row) => (row.isRight ? 1 : 0),
  },
]
for (const row of [...rows, ...now]) row.y = row.isRight ? 1 : 0
for (const model of models) {
  model.columns = columnsOf(rows.filter(model.learnsFrom), model.takes)
  model.weights = fitPart(model, rows)
}
crossValidate()
const sure = cutFor(rows, MAY_BE_WRONG)
const check = Math.min(sure, halfWrongBelow(rows))

if (asked.features) printFeatures()
printFlags()
const fitted = asWeights()
for (const part of ['kept', 'own kept']) printKept(part)
if (!asked.dry) writeFileSync(new URL('src/record/weights.json', root), `${JSON.stringify(fitted, null, 2)}\n`)

/** The columns of the model: base, features, groups, fields. */
function columnsOf(data, takes) {
  const seen = new Map()
  for (const { note, features } of data)
    for (const name of Object.keys(features).filter(takes)) {
      const count = seen.get(name) ?? { readings: 0, notes: new Set() }
      count.readings++
      count.notes.add(note)
      seen.set(name, count)
    }
  const out = [{ name: 'base', shrink: 1e-6 }]
  const names = new Set([...Object.keys(FORCED).filter(takes), ...seen.keys()])
  for (const name of [...names].sort()) {
    const count = seen.get(name)
    const isCommon = count && count.readings >= ENOUGH.readings && count.notes.size >= ENOUGH.notes
    if (!isCommon && FORCED[name]?.prior === undefined) continue
    const shrink = name.startsWith('group ') ? SHRINK.group : name.startsWith('field ') ? SHRINK.field : SHRINK.feature
    out.push({ name, shrink, ...FORCED[name] })
  }
  return out
}

/** A reading as one model takes it: columns and sizes. */
function placed({ features }, columns) {
  const pairs = [[0, 1]]
  columns.forEach(({ name }, j) => {
    const size = features[name]
    if (j > 0 && size) pairs.push([j, size])
  })
  return { at: pairs.map(([j]) => j), size: pairs.map(([, size]) => size) }
}

function fitPart({ columns, learnsFrom, target, weights }, data) {
  const cases = data.filter(learnsFrom).map((row) => ({ ...placed(row, columns), y: target(row) }))
  return fitLogistic(cases, columns, { start: weights })
}

/** The product of what the models say; `weights` are theirs, in order. */
function chance(row, weights) {
  return models.reduce((product, { columns, concerns }, m) => {
    if (!concerns(row)) return product
    const { at, size } = placed(row, columns)
    return product * sigmoid(at.reduce((sum, j, i) => sum + weights[m][j] * size[i], 0))
  }, 1)
}

/** Gives every reading the probability `p` of a model that did not see its note, and the flag of a cut that did not. */
function crossValidate() {
  const fold = new Map(notes.map(({ note }, i) => [note, (i * 7) % FOLDS]))
  const inFold = (data, k) => data.filter(({ note }) => fold.get(note) === k)
  const others = (data, k) => data.filter(({ note }) => fold.get(note) !== k)
  for (let k = 0; k < FOLDS; k++) {
    const w = models.map((model) => fitPart(model, others(rows, k)))
    for (const row of [...inFold(rows, k), ...inFold(now, k)]) row.p = chance(row, w)
  }
  for (let k = 0; k < FOLDS; k++) {
    const cut = cutFor(others(rows, k), MAY_BE_WRONG)
    for (const row of [...inFold(rows, k), ...inFold(now, k)]) row.isSure = row.p >= cut
  }
}

/** The highest probability below which at least half of the readings are wrong. */
function halfWrongBelow(data) {
  let cut = 0
  for (let percent = 30; percent <= 80; percent += 5) {
    const p = percent / 100
    const below = data.filter((row) => row.p < p)
    if (below.length > 0 && below.filter(({ y }) => y === 0).length >= below.length / 2) cut = p
  }
  return cut
}

function asWeights() {
  /** What hardly moves a confidence costs the page more than it tells. */
  const LEAST = 0.15
  const round = (x) => (Math.abs(x) < LEAST ? 0 : Math.round(x * 100) / 100)
  const out = {}
  for (const { part, columns, weights } of models) {
    const model = { base: 0, features: {}, groups: {}, fields: {} }
    columns.forEach(({ name }, j) => {
      const weight = round(weights[j])
      if (name === 'base') model.base = weight
      else if (weight === 0) return
      else if (name.startsWith('group ')) model.groups[name.slice(6)] = weight
      else if (name.startsWith('field ')) model.fields[name.slice(6)] = weight
      else model.features[name] = weight
    })
    out[part] = model
  }
  return { ...out, cuts: { sure: Math.ceil(sure * 1000) / 1000, check: Math.round(check * 1000) / 1000 } }
}

function percent(x) {
  return `${(100 * x).toFixed(1)} %`
}

function summary(label, data) {
  console.log(
    `${label.padEnd(30)} ${String(data.length).padStart(5)} readings, ${percent(data.filter(({ y }) => !y).length / data.length).padStart(6)} wrong; ` +
      `Brier ${brier(data).toFixed(4)}, log loss ${logLoss(data).toFixed(4)}, ECE ${calibrationError(data).toFixed(3)}, AUC ${auc(data).toFixed(3)}`,
  )
}

function flags(label, { sureButWrong, caught, toReview }) {
  console.log(
    `${label.padEnd(30)} sure but wrong ${percent(sureButWrong).padStart(6)}, wrong not sure ${percent(caught).padStart(7)}, to review ${percent(toReview).padStart(6)}`,
  )
}

function printFlags() {
  const parts = [
    ['as written', now.filter(({ isBare }) => !isBare)],
    ['bare', now.filter(({ isBare }) => isBare)],
    ['both', now],
    ['both, lines left out', rows],
  ]
  console.log('cross-validated')
  for (const [label, data] of parts) summary(label, data)
  for (const [label, data] of parts)
    flags(
      label,
      flagging(data, ({ isSure }) => isSure),
    )
  console.log(`\ncuts: sure from ${sure.toFixed(3)}, check from ${check.toFixed(2)}; what other cuts would give`)
  for (const share of [0.015, 0.03, 0.05, 0.08])
    for (const [label, data] of parts.slice(2)) {
      const cut = cutFor(data, share)
      flags(
        `${percent(share)}, ${label}: ${cut.toFixed(3)}`,
        flagging(data, ({ p }) => p >= cut),
      )
    }
  console.log('\nreliability, cross-validated: stated → right          lines left out')
  const seen = reliability(now)
  reliability(rows).forEach(({ from, to, ...left }, bin) => {
    const cell = ({ count, stated, right }) =>
      `${String(count).padStart(6)}  ${stated.toFixed(3)} → ${right.toFixed(3)}`.padEnd(30)
    console.log(`  ${from.toFixed(1)}–${to.toFixed(1)} ${cell(seen[bin])} ${cell(left)}`)
  })
  console.log('\nrisk–coverage, cross-validated: wrong among the surest part; lines left out')
  for (const part of [0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1])
    console.log(
      `  ${percent(part).padStart(7)} ${percent(riskAt(now, part)).padStart(8)} ${percent(riskAt(rows, part)).padStart(8)}`,
    )
}

function printKept(part) {
  const data = read(notesOf(inside, root, part))
  for (const row of data) {
    row.y = row.isRight ? 1 : 0
    row.p = chance(
      row,
      models.map(({ weights }) => weights),
    )
  }
  console.log()
  for (const isBare of [false, true]) {
    const half = data.filter((row) => row.isBare === isBare)
    summary(`${part}${isBare ? ', bare' : ''}`, half)
    flags(
      '',
      flagging(half, ({ p }) => p >= sure),
    )
  }
}

/** How often readings with a feature are wrong, against those without it; and the weight that the fit gave it. */
function printFeatures() {
  const wrong = rows.filter(({ y }) => !y).length
  const weightIn = (name) =>
    models.map(({ columns, weights }) => weights[columns.findIndex((column) => column.name === name)]?.toFixed(2) ?? '')
  const names = new Set(models.flatMap(({ columns }) => columns.slice(1).map(({ name }) => name)))
  const lines = [...names].map((name) => {
    const on = rows.filter(({ features }) => features[name])
    const bad = on.filter(({ y }) => !y).length
    const odds = (bad + 0.5) / (on.length - bad + 0.5)
    const oddsElse = (wrong - bad + 0.5) / (rows.length - on.length - wrong + bad + 0.5)
    return { name, on: on.length, notes: new Set(on.map(({ note }) => note)).size, ratio: odds / oddsElse }
  })
  console.log('feature                        readings notes  odds of being wrong    value     hive')
  for (const { name, on, notes, ratio } of lines.sort((a, b) => b.ratio - a.ratio))
    if (!name.startsWith('field '))
      console.log(
        `${name.padEnd(30)} ${String(on).padStart(8)} ${String(notes).padStart(5)} ${ratio.toFixed(2).padStart(20)} ${weightIn(
          name,
        )
          .map((x) => x.padStart(8))
          .join(' ')}`,
      )
  console.log()
}
