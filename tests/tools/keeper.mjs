// A keeper who knows what was said answers the questions of `combscribe fix` over the labelled notes: how much is right
// afterwards, and what it cost. Sources as they are, no build.
// usage: node tests/tools/keeper.mjs [--note NAME] [--bare] [--show]   (--show: single answers, notes for work only)
import { pathToFileURL } from 'node:url'
import { parseArgs } from 'node:util'
import { notesOf, PARTS } from './labelled.mjs'
import { agrees, label, rates, scoreReadings } from './score-readings.mjs'

/** Where a label's words stand in the note, as near as can be to the reading's. */
function overlaps(text, quote, { start, end }) {
  if (!quote) return false
  const [all, asked] = [text.toLowerCase(), quote.toLowerCase()]
  for (let at = all.indexOf(asked); at >= 0; at = all.indexOf(asked, at + 1))
    if (at < end && start < at + asked.length) return true
  return false
}

const plain = (value) => (value?.between ? value.between[0] : value)

/** What the keeper answers to one row: the label decides, found by the words where hive or value are wrong. */
export function answerTo(row, gold, text, wrong) {
  const facts = [...gold.facts, ...(gold.optional ?? [])]
  if (!wrong.has(row.readings[0])) return { is: 'as said' }
  const mine = facts.filter((fact) => fact.field === row.field && overlaps(text, fact.quote, row))
  const elsewhere = mine.find((fact) => agrees(row.value, fact.value) && label(fact.hive) !== label(row.place.hive))
  if (elsewhere && row.place.hive !== null) return { is: 'hive', hive: label(elsewhere.hive) }
  const other = mine.find((fact) => label(fact.hive) === label(row.place.hive))
  if (other) return agrees(row.value, other.value) ? { is: 'not said' } : { is: 'value', value: plain(other.value) }
  return mine[0] ? { is: 'value', value: plain(mine[0].value), hive: label(mine[0].hive) } : { is: 'not said' }
}

const sameAnswer = (choice, answer) =>
  choice.is === answer.is &&
  (answer.is === 'hive'
    ? choice.hive === answer.hive
    : answer.is === 'value'
      ? answer.hive === undefined &&
        (agrees(choice.value, answer.value) || JSON.stringify(choice.value) === JSON.stringify(answer.value))
      : true)

/** Goes through one note's questions, each made from what the answers before left. Gives the record and the cost. */
export function fixNote(inside, { note, gold, transcript, ask = {} }) {
  const { text } = transcript
  const read = inside.readNote(transcript, { name: note, date: gold.date })
  const flat = (record) => inside.placedReadings(record).map(({ reading, ...place }) => ({ ...reading, ...place }))
  const score = (record) => scoreReadings([gold], new Map([[note, flat(record)]]))
  const wrongIn = (record) =>
    new Set(
      score(record)
        .judged.filter(({ isRight }) => !isRight)
        .map(({ reading }) => reading.id),
    )
  const before = score(read)
  const corrections = []
  let record = read
  const push = (bodies) => {
    for (const body of [bodies].flat())
      corrections.push(inside.stamped(body, { id: `c${corrections.length}`, at: '2026-01-01T00:00', who: 'keeper' }))
    record = inside.applyCorrections(read, corrections, text).record
  }
  const cost = {
    readings: flat(read).length,
    questions: 0,
    rows: 0,
    opened: 0,
    moves: 0,
    firstThree: 0,
    keys: [],
    answers: [],
  }
  for (;;) {
    let [question] = inside.questionsFor(record, text, ask)
    if (!question || cost.questions > 200) break
    let keys = 1
    const note_ = (row, answer, at) => {
      cost.rows++
      const good = at >= 0 && at < 3
      if (good) cost.firstThree++
      cost.answers.push({ note, row, answer, at, good })
    }
    const answersNow = () => {
      const wrong = wrongIn(record)
      return question.rows.map((row) => answerTo(row, gold, text, wrong))
    }
    let answers = answersNow()
    const moved = answers.filter(({ is }) => is === 'hive')
    const hive = moved[0]?.hive
    if (moved.length >= 2 && moved.length * 2 > answers.length && moved.every((answer) => answer.hive === hive)) {
      // one key for "another hive", one for which, one for how far
      const at = question.hives.slice(0, 9).indexOf(hive)
      keys += 2 + (at >= 0 ? 1 : 2 + hive.length)
      cost.moves++
      for (const [i, row] of question.rows.entries())
        if (answers[i].is === 'hive') note_(row, answers[i], at < 0 ? -1 : at)
      const asked = new Set(answers.flatMap(({ is }, i) => (is === 'hive' ? [i] : [])))
      const ids = question.rows.map(({ readings }) => readings[0])
      push(reaching(inside, question, record, gold, text, hive, wrongIn))
      question = {
        ...question,
        rows: question.rows.map((row) => ({ ...row, place: { ...row.place, hive: placeNow(flat(record), row) } })),
      }
      answers = answersNow()
      for (const [i, row] of question.rows.entries()) if (!asked.has(i)) price(row, answers[i])
      for (const i of asked) if (answers[i].is !== 'as said') keys += 3
      if (ids.length !== answers.length) throw new Error('rows changed under the question')
    } else for (const [i, row] of question.rows.entries()) price(row, answers[i])
    function price(row, answer) {
      const at = row.choices.findIndex((choice) => sameAnswer(choice, answer))
      note_(row, answer, at)
      if (answer.is === 'as said') return
      cost.opened++
      // the row's key and the choice's; what is not among the choices is typed, with Enter
      keys += at >= 0 ? 2 : 3 + String(answer.value ?? answer.hive ?? '').length
    }
    push(inside.correctionsFrom(question, answers, record, text))
    cost.questions++
    cost.keys.push(keys)
  }
  const { orphaned } = inside.applyCorrections(read, corrections, text)
  return { before, after: score(record), cost, orphaned, record, read, corrections }
}

const placeNow = (readings, row) => readings.find(({ id }) => id === row.readings[0])?.hive ?? row.place.hive

/** These, from here on, or the whole stretch: as far as what is wrong in it belongs to that hive. */
function reaching(inside, question, record, gold, text, hive, wrongIn) {
  const stretch = inside.stretchAt(record, question.start)
  const wrong = wrongIn(record)
  const belongs = (from) => {
    const own = inside
      .placedReadings(record)
      .filter(({ reading }) => stretch.ids.includes(reading.id) && reading.start >= from)
    const answers = own.map(({ reading, ...place }) =>
      answerTo({ ...reading, readings: [reading.id], place }, gold, text, wrong),
    )
    const there = answers.filter((answer) => answer.hive === hive).length
    return there >= 2 && there / answers.filter(({ is }) => is !== 'not said').length >= 0.8
  }
  if (stretch && belongs(stretch.start))
    return inside.movedFrom(record, text, question.start, { hive }, 'whole stretch')
  if (stretch && belongs(question.start)) return inside.movedFrom(record, text, question.start, { hive })
  return inside.wholeLookMoved(question, hive, record, text)
}

const add = (sum, count) => {
  for (const kind of ['right', 'wrong', 'missed']) sum[kind] = (sum[kind] ?? 0) + count[kind]
}

/** The measures over the notes of a part. */
export function measure(inside, notes, { isBare = false, ask } = {}) {
  const [before, after] = [{}, {}]
  const sum = { readings: 0, questions: 0, rows: 0, opened: 0, moves: 0, firstThree: 0, orphaned: 0 }
  const keys = []
  const answers = []
  const wrongLeft = []
  for (const { note, gold, inputs } of notes) {
    const transcript = isBare ? inside.openTranscript(inputs.bare, note) : inputs.written
    const done = fixNote(inside, { note, gold, transcript, ask })
    add(before, done.before.total)
    add(after, done.after.total)
    for (const name of ['readings', 'questions', 'rows', 'opened', 'moves', 'firstThree']) sum[name] += done.cost[name]
    sum.orphaned += done.orphaned.length
    for (const one of done.cost.keys) keys.push(one)
    for (const one of done.cost.answers) answers.push(one)
    for (const one of done.after.misses) if (one.startsWith('WRONG')) wrongLeft.push(one)
  }
  keys.sort((a, b) => a - b)
  const [was, is] = [rates(before), rates(after)]
  return {
    notes: notes.length,
    precision: [was.precision, is.precision],
    f1: [was.f1, is.f1],
    gained: (is.f1 - was.f1) / (1 - was.f1),
    asked: sum.questions / sum.readings,
    opened: sum.opened / sum.readings,
    firstThree: sum.firstThree / (sum.rows || 1),
    medianKeys: keys[Math.floor(keys.length / 2)] ?? 0,
    keysPerReading: keys.reduce((a, b) => a + b, 0) / sum.readings,
    sum,
    answers,
    wrongLeft,
  }
}

if (import.meta.url === pathToFileURL(process.argv[1]).href) {
  const { values: asked } = parseArgs({
    options: { note: { type: 'string' }, bare: { type: 'boolean' }, show: { type: 'boolean' } },
  })
  const { load } = await import('./load.mjs')
  const inside = await load('tests/tools/inside.ts')
  const root = new URL('../../', import.meta.url)
  const percent = (x) => `${(100 * x).toFixed(1)} %`
  const parts = asked.note || asked.show ? ['fit'] : Object.keys(PARTS).filter((part) => part !== 'walks')
  const columns = parts.map((part) => {
    const notes = notesOf(inside, root, part).filter(({ note }) => asked.note === undefined || note === asked.note)
    return measure(inside, notes, { isBare: asked.bare })
  })
  const line = (name, cell) => console.log(name.padEnd(34) + columns.map((one) => cell(one).padStart(20)).join(''))
  console.log(' '.repeat(34) + parts.map((part) => part.padStart(20)).join(''))
  line('notes', (m) => String(m.notes))
  line('precision before, after', (m) => m.precision.map(percent).join('  '))
  line('F1 before, after', (m) => m.f1.map(percent).join('  '))
  line('of the distance to 1', (m) => percent(m.gained))
  line('questions of readings', (m) => percent(m.asked))
  line('rows opened of readings', (m) => percent(m.opened))
  line('right among first three', (m) => percent(m.firstThree))
  line('keys a question, median', (m) => String(m.medianKeys))
  line('keys a reading', (m) => m.keysPerReading.toFixed(2))
  line('corrections that lost their words', (m) => String(m.sum.orphaned))
  if (asked.show) {
    for (const { note, row, answer, at, good } of columns[0].answers)
      if (answer.is !== 'as said')
        console.log(
          `${good ? '   ' : 'FAR'} ${note} ${row.place.hive} ${row.field} ${JSON.stringify(row.value)} «${row.quote}» => ${JSON.stringify(answer)} at ${at} of ${row.choices.map((c) => c.value ?? c.hive ?? c.is).join(' | ')}`,
        )
    console.log(columns[0].wrongLeft.join('\n'))
  }
}
