// How fast, and how the time grows: every ratio compares two sides that were measured in turns in one run.
// usage: node tests/bench/bench.mjs [--rounds N] [--only length,live,visit,judge,start,night,page,hearing]
// Times are the best of the rounds, of live steps the middle one. Nothing fails here: what is over its limit is marked, and a loaded machine is a loaded
// machine. The start-up lines and the page use dist/, all others the sources.
import { spawnSync } from 'node:child_process'
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { loadavg, tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { parseArgs } from 'node:util'
import { load } from '../tools/load.mjs'

const { values: asked } = parseArgs({
  options: {
    rounds: { type: 'string', default: '3' },
    only: { type: 'string', default: 'length,live,visit,judge,start,night,page,hearing' },
    notes: { type: 'string', default: '400' },
  },
})
const rounds = Number(asked.rounds)
const parts = asked.only.split(',')
const root = fileURLToPath(new URL('../..', import.meta.url))
const date = '2026-05-20'
let kept = 0
/** Sentences between two pauses. */
const SENTENCES_AT_ONCE = 5

/** Milliseconds of one call; its result is used, so that it cannot be left out. */
function time(work) {
  const start = performance.now()
  const result = work()
  const ms = performance.now() - start
  kept += result ? 1 : 0
  return ms
}
/** The same in processor time of this process, which other programs do not lengthen; its collector of garbage counts too. */
function work(task) {
  const start = process.cpuUsage()
  const result = task()
  const { user, system } = process.cpuUsage(start)
  kept += result ? 1 : 0
  return (user + system) / 1000
}
const best = (list) => Math.min(...list)
const middle = (list) => [...list].sort((a, b) => a - b)[list.length >> 1]
const number = (ms) => (ms >= 100 ? ms.toFixed(0) : ms >= 1 ? ms.toFixed(1) : ms.toFixed(3)).padStart(9)
const ratio = (value, most) =>
  `${value.toFixed(2)} times${most === undefined ? '' : value > most ? `, OVER ${most}` : `, at most ${most}`}`
const line = (what, ms, more = '') => console.log(`${what.padEnd(48)}${number(ms)} ms   ${more}`)

const { createReader, createVisit, judge, openTranscript, readNote, utterancesOf } = await load('tests/bench/inside.ts')

/** The words of the labelled notes, over and over, up to a number of words. */
function speech(count) {
  const folder = join(root, 'fixtures/corpus/tuned')
  const words = readdirSync(folder)
    .filter((file) => /\.(txt|srt|vtt)$/.test(file))
    .sort()
    .flatMap((file) => {
      const { text, segments } = openTranscript(readFileSync(join(folder, file)), file)
      return segments.flatMap(({ start, end }) => text.slice(start, end).split(/\s+/)).filter(Boolean)
    })
  return Array.from({ length: count }, (_, i) => words[i % words.length])
}
const cut = (words, size) =>
  Array.from({ length: Math.floor(words.length / size) }, (_, i) => words.slice(i * size, (i + 1) * size).join(' '))
const read = (text) => readNote(text, { name: 'bench', date })

if (loadavg()[0] > 1.5)
  console.log(`The machine is busy (load ${loadavg()[0].toFixed(1)}): trust the ratios, not the times.\n`)
for (const text of cut(speech(5000), 500)) read(text)

if (parts.includes('length')) {
  // The same 50,000 words as a hundred notes, as ten and as one.
  const words = speech(50_000)
  const sizes = [500, 5000, 50_000].map((size) => ({ size, texts: cut(words, size), spent: [] }))
  for (let round = 0; round < rounds; round++)
    for (const { texts, spent } of sizes) spent.push(time(() => texts.map(read).length))
  const perWord = sizes.map(({ spent }) => best(spent) / words.length)
  sizes.forEach(({ size, texts, spent }, i) => {
    const grown = i === 0 ? '' : `, ${ratio(perWord[i] / perWord[0], 1.3)} those of the first`
    line(
      `a note of ${size.toLocaleString('en')} words`,
      best(spent) / texts.length,
      `${(perWord[i] * 1000).toFixed(0)} µs a word${grown}`,
    )
  })
  const short = best(sizes[0].spent) / sizes[0].texts.length
  console.log(`  500 words in ${short.toFixed(1)} ms: ${short < 50 ? 'under' : 'OVER'} the 50 ms they may take\n`)
}

if (parts.includes('live')) {
  // Speech at 130 words a minute. The same utterances are heard after one minute and after an hour.
  const transcript = openTranscript(speech(61 * 130).join(' '), 'bench')
  const utterances = utterancesOf(transcript)
  const upTo = (minutes) => utterances.filter(({ start }) => start < (transcript.text.length / 61) * minutes).length
  const next = utterances.slice(upTo(1), upTo(1) + 40)
  // A step: one more utterance and the record after it, as whoever listens asks for it; the record alone beside it.
  const sides = [1, 60].map((minutes) => ({ minutes, step: [], record: [] }))
  for (let round = 0; round < rounds; round++)
    for (const { minutes, step, record } of sides) {
      const reader = createReader(transcript, { name: 'bench', date })
      for (const utterance of utterances.slice(0, upTo(minutes))) reader.hear(utterance)
      reader.record()
      for (const utterance of next) {
        step.push(
          time(() => {
            reader.hear(utterance)
            return reader.record()
          }),
        )
        record.push(time(() => reader.record()))
      }
    }
  const [early, late] = sides
  const grown = (list, first) => (list === first ? '' : ratio(middle(list) / middle(first)))
  for (const { minutes, step } of sides)
    line(`one more utterance and the record, minute ${minutes}`, middle(step), grown(step, early.step))
  for (const { minutes, record } of sides)
    line(`the record asked for again, minute ${minutes}`, middle(record), grown(record, early.record))
  const heard = ({ step, record }) => middle(step) - middle(record)
  console.log(`  the utterance alone: ${heard(early).toFixed(2)} ms, then ${heard(late).toFixed(2)} ms`)
  console.log(`  (hour: ${upTo(late.minutes)} utterances)\n`)
}

if (parts.includes('visit')) {
  // An hour at the hives, spoken sentence by sentence: each is answered (place, readings, alarms, what is lacking). Work that
  // was put off is done in pauses (a keeper makes one after some sentences) and timed apart, in the slices in which it is done.
  const sentences = visits()
  const at = (minutes) =>
    Math.max(0, Math.min(sentences.length - 60, Math.round((sentences.length / 60) * minutes)) - 30)
  const sides = [1, 30, 60].map((minutes) => ({ minutes, from: at(minutes), spent: [], slices: [], pauses: [] }))
  for (let round = 0; round < rounds; round++) {
    const visit = createVisit({ name: 'bench', date })
    sentences.forEach((words, i) => {
      const ms = work(() => visit.hear(words))
      const side = sides.find(({ from }) => i >= from && i < from + 60)
      side?.spent.push(ms)
      if (i % SENTENCES_AT_ONCE !== 0) return
      let pause = 0
      for (let done = false; !done; ) {
        const slice = work(() => {
          done = visit.catchUp(4)
          return true
        })
        pause += slice
        side?.slices.push(slice)
      }
      side?.pauses.push(pause)
    })
  }
  const share = (list, part) => [...list].sort((a, b) => a - b)[Math.floor((list.length - 1) * part)]
  for (const { minutes, spent, slices, pauses } of sides) {
    const grown = minutes === 1 ? '' : `, ${ratio(middle(spent) / middle(sides[0].spent), 1.5)} those of minute 1`
    line(
      `an utterance answered, minute ${minutes}`,
      middle(spent),
      `19 in 20 under ${share(spent, 0.95).toFixed(1)}, longest ${Math.max(...spent).toFixed(1)}${grown}`,
    )
    console.log(
      `  work put off to a pause: ${middle(pauses).toFixed(1)} ms, at most ${Math.max(...pauses).toFixed(0)}, in slices of at most ${Math.max(...slices).toFixed(1)}`,
    )
  }
  const worst = share(sides.at(-1).spent, 0.95)
  console.log(
    `  (${sentences.length} sentences) ${worst < 5 ? 'under' : 'OVER'} the 5 ms that are 20 ms on a phone at a quarter of this speed\n`,
  )
}

if (parts.includes('judge')) {
  const record = read(cut(speech(500), 500)[0])
  const spent = Array.from({ length: rounds * 10 }, () => time(() => judge(record)))
  line('the rules over one record of 500 words', best(spent), `${record.hives.length} hives\n`)
}

if (parts.includes('start')) start()
if (parts.includes('night')) {
  const { benchNight } = await import('./night.mjs')
  await benchNight(join(root, 'dist/cli.js'), Number(asked.notes))
  kept++
}

// The built page in Chromium at phone size.
if (parts.includes('hearing')) {
  const { benchHearing } = await import('./hearing.mjs')
  const folder = mkdtempSync(join(tmpdir(), 'bench-hearing-'))
  benchHearing(root, folder)
  rmSync(folder, { recursive: true })
  kept++
}
if (parts.includes('page')) {
  const { benchPage } = await import('./page.mjs')
  await benchPage(visits(), line)
  kept++
}

/** The sentences of notes that may be worked with, one visit after the other, until an hour of speech is full. */
function visits() {
  const mine = ['fixtures/notes', 'fixtures/own/a', 'fixtures/own/b', 'fixtures/own/c', 'fixtures/own/d'].flatMap(
    (folder) =>
      readdirSync(join(root, folder))
        .filter((file) => /\.(txt|srt)$/.test(file))
        .filter((file) => !/^[abde]-\d+\./.test(file) || Number(/\d+/.exec(file)[0]) % 3 !== 0)
        .sort()
        .map((file) => join(root, folder, file)),
  )
  const out = []
  let count = 0
  for (let i = 0; count < 60 * 130; i++) {
    const { text, segments } = openTranscript(readFileSync(mine[i % mine.length]), mine[i % mine.length])
    for (const { start, end } of segments)
      for (const sentence of text.slice(start, end).split(/(?<=[.?!…])\s+|\n/)) {
        if (!/\w/.test(sentence)) continue
        out.push(sentence)
        count += sentence.split(/\s+/).length
      }
  }
  return out
}

/** Whole processes, from start to end. */
function start() {
  const cli = join(root, 'dist/cli.js')
  if (!existsSync(cli)) return console.log('dist/ is not there: run npm run build to measure the start of the command.')
  const folder = mkdtempSync(join(tmpdir(), 'bench-'))
  const note = join(folder, 'note.txt')
  const empty = join(folder, 'empty.mjs')
  writeFileSync(note, 'Hive two. Queen seen, eggs and larvae. Six frames of brood, two of honey. Calm. One super on.\n')
  writeFileSync(empty, '')
  const sides = [
    { what: 'node alone', args: [empty] },
    { what: 'combscribe --help', args: [cli, '--help'], most: 2 },
    { what: 'combscribe read, a note of 18 words', args: [cli, 'read', note, '--date', date], most: 4 },
  ].map((side) => ({ ...side, spent: [] }))
  for (let round = 0; round < rounds * 4; round++)
    for (const { args, spent } of sides)
      spent.push(
        time(() => {
          const done = spawnSync(process.execPath, args)
          if (done.status !== 0) throw new Error(`${args.join(' ')} ended with ${done.status}: ${done.stderr}`)
          return true
        }),
      )
  for (const { what, spent, most } of sides)
    line(what, best(spent), most === undefined ? '' : ratio(best(spent) / best(sides[0].spent), most))
  rmSync(folder, { recursive: true })
}
if (kept === 0) throw new Error('nothing was measured; name at least one part with --only.')
