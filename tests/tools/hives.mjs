// Learning which words call a hive, from the labelled notes: a structured perceptron with hidden calls. Of a note only what
// hive each labelled fact belongs to is known; which words called it is worked out while learning.
import { readdirSync, readFileSync } from 'node:fs'
import { duesOf, hiveNotes, isKept, spoken } from './hive-notes.mjs'
import { notesOf } from './labelled.mjs'
import { load } from './load.mjs'
import { randomOf } from './random.mjs'

export const inside = await load('tests/tools/hives-inside.ts')
const root = new URL('../../', import.meta.url)
const EPOCHS = 8
/** The largest step of one update (passive-aggressive learning, Crammer et al. 2006); and what a wrong fact costs. */
const STEP = 0.02
const COST = 0.5
/**
 * Set by hand: a name of the yard file calls its hive where it stands first, and mostly elsewhere (the labelled notes have no
 * yard files; this is by how well they are followed when their names are given); a nuc, swarm or split that stands first is
 * gone to.
 */
const BY_HAND = { given: 12, 'given inside': 5, kind: 6 }
/** What a whole fact is worth when the right way through a note is looked for. */
const MUST = 50
/** A cue has a weight if this many notes have it: a word beside the call, and any other. */
const NOTES = { word: 5, other: 4 }
/** A labelled note is as long as several marked ones, and like what is to be read: it is learned from that often. */
const LABELLED = 3
/** How often a note that was right twice is looked at again. */
const OFTEN = 0.3

/** Where each fact is said and the labels that are right there. */
function dues(gold, text) {
  const low = text.toLowerCase()
  const byPlace = new Map()
  let last = 0
  const several = gold.facts.some(({ hive }) => hive !== '')
  for (const { hive, field, quote } of gold.facts) {
    if (!quote || (several && hive === '')) continue
    if (/^(visit|weather|flow|forage)\b/.test(field)) continue
    // any run of blanks and marks may stand between the words of the quote
    const parts = quote.toLowerCase().match(/[\p{L}\p{N}']+/gu)
    if (!parts) continue
    const re = new RegExp(parts.map((p) => p.replace(/[.*+?^${}()|[\]\\]/g, '\\$&')).join('[^\\p{L}\\p{N}]+'), 'gu')
    let best = null
    for (const m of low.matchAll(re)) {
      const d = m.index - last
      const far = d < 0 ? -d * 3 : d
      if (best === null || far < best.far) best = { at: m.index, end: m.index + m[0].length, far }
    }
    if (!best) continue
    last = best.at
    const key = best.end
    const known = byPlace.get(key)
    if (known) known.labels.push(hive)
    else byPlace.set(key, { at: key, start: best.at, labels: [hive] })
  }
  return [...byPlace.values()].sort((a, b) => a.at - b.at)
}

/** Whether a hive is named in passing beside a fact: of it the follower need not know. */
const inPassing = (calls, { at, start, labels }) =>
  calls.some(
    ({ call }) =>
      call.kind === 'local' &&
      call.labels.some((label) => labels.includes(label)) &&
      call.start >= start - 40 &&
      call.end <= at + 40,
  )

/**
 * The notes of a part: what may call a hive, and what hive is due where. Each as written and bare; and once more, either way
 * by turns, with the hives' names as a yard file would give them.
 */
export function dataOf(part) {
  const out = []
  for (const [i, { note, gold, inputs }] of notesOf(inside, root, part).entries()) {
    const named = [...new Set(gold.facts.map(({ hive }) => hive))].filter((hive) => /^\p{L}{3,}/u.test(hive))
    const forms = Object.entries(inputs).map(([form, input]) => [form, input, []])
    if (named.length > 0) forms.push(['with a yard file', i % 2 ? inputs.bare : inputs.written, named])
    for (const [form, input, names] of forms) {
      const { text, calls } = inside.callsIn(input, names)
      out.push({ note, form, times: LABELLED, calls, due: dues(gold, text).filter((due) => !inPassing(calls, due)) })
    }
  }
  return out
}

/**
 * The tables of phrases (fixtures/phrases) as short notes: where the reader finds the value of a fact, that hive is due. A
 * phrase whose facts name no hive calls none.
 */
export function dataOfPhrases() {
  const folder = new URL('fixtures/phrases/', root)
  const out = []
  for (const file of readdirSync(folder).filter((name) => name.endsWith('.txt')))
    for (const { said, facts } of inside.phraseLines(readFileSync(new URL(file, folder), 'utf8'))) {
      if (facts.length === 0) continue
      const { calls } = inside.callsIn(said)
      if (calls.length === 0) continue
      const readings = inside.flatten(inside.readNote(said, { name: 'phrase', date: '2026-05-20' }))
      const due = []
      for (const fact of facts) {
        const [hive, field, value] = fact.split('|')
        const found = readings.find((r) => r.field === field && String(r.value) === value)
        if (found && !/^(visit|weather|forage)/.test(field)) due.push({ at: found.end, labels: [hive] })
      }
      if (due.length > 0) out.push({ note: said, form: 'phrase', calls, due: due.sort((a, b) => a.at - b.at) })
    }
  return out
}

/** The short notes with hives marked (fixtures/hives): those to learn from, or those kept out. Written and bare. */
export function dataOfHiveNotes(kept) {
  const out = []
  for (const note of hiveNotes(root)) {
    if (isKept(note.name) !== kept) continue
    for (const form of ['written', 'bare']) {
      const said = spoken(note, form === 'bare')
      const { calls } = inside.callsIn(said.text)
      const due = duesOf(said, inside.readNote, inside.placedReadings)
      out.push({ note: note.name, form, calls, due: due.filter((d) => !inPassing(calls, d)) })
    }
  }
  return out
}

/** Which cues are there in enough notes, for each way of taking a call. */
function usual(data) {
  const seen = new Map()
  const count = (cue, how, note) => {
    const rows = seen.get(cue) ?? []
    if (rows.length === 0) seen.set(cue, rows)
    if (rows[how] === undefined) rows[how] = new Set()
    rows[how].add(note)
  }
  for (const { note, calls } of data)
    for (const { call, cues } of calls) {
      const own = inside.howTaken(call)
      for (const cue of cues) {
        count(cue, 0, note)
        count(cue, own, note)
      }
    }
  // a word beside the call must be met in more notes than what is counted or built up
  const lexical = /^[ab][12] /
  return new Map(
    [...seen]
      .map(([cue, rows]) => {
        const enough = lexical.test(cue) ? NOTES.word : NOTES.other
        return [cue, Array.from({ length: HOWS }, (_, how) => (rows[how]?.size ?? 0) >= enough)]
      })
      .filter(([, rows]) => rows.some(Boolean)),
  )
}
const HOWS = inside.HOW.length

/** Weights while they are learned: a row of numbers for each cue, and their means over all steps. */
function learner(usualCues) {
  const cues = [...usualCues.keys()]
  const ids = new Map(cues.map((cue, i) => [cue, i]))
  const steps = inside.STEP_CUES.length
  const rows = steps + cues.length
  const w = new Float64Array(rows * HOWS)
  // what is met in too few notes keeps its weight of 0
  const open = new Uint8Array(rows * HOWS).fill(1)
  for (const [i, cue] of cues.entries()) open.set(usualCues.get(cue), (steps + i) * HOWS)
  const weighted = new Float64Array(rows * HOWS)
  let t = 0
  // what is known of a call while these weights are learned
  const known = new Map()
  const of = (weighed) => {
    let out = known.get(weighed)
    if (!out) {
      const rows = weighed.cues.map((cue) => ids.get(cue) ?? -1).filter((id) => id >= 0)
      out = { ids: Int32Array.from(rows, (id) => id + steps), at: -1, own: 0 }
      known.set(weighed, out)
    }
    return out
  }
  const at = (row, taken) => w[row * HOWS] + w[row * HOWS + taken]
  const scorer = {
    base(weighed) {
      const here = of(weighed)
      if (here.at !== t) {
        here.at = t
        here.own = 0
        const own = inside.howTaken(weighed.call)
        for (const id of here.ids) {
          here.own += at(id, own)
        }
      }
      return here.own
    },
    step: (taken, cue) => at(cue, taken),
  }
  /** How often each weight counts on a path. */
  const counts = (path, out, sign) => {
    const add = (row, taken) => {
      const own = row * HOWS + taken
      if (open[own]) out.set(own, (out.get(own) ?? 0) + sign)
      if (open[row * HOWS]) out.set(row * HOWS, (out.get(row * HOWS) ?? 0) + sign)
    }
    for (let p = path; p?.call; p = p.before) {
      const { how, cues } = inside.stepTaken(p)
      for (const id of of(p.call).ids) add(id, how)
      for (const cue of cues) add(cue, how)
    }
    return out
  }
  return {
    scorer,
    counts,
    tick() {
      t++
    },
    bump(key, d) {
      w[key] += d
      weighted[key] += d * t
    },
    mean() {
      const out = new Map()
      const name = (row) => (row < steps ? inside.STEP_CUES[row] : cues[row - steps])
      for (let row = 0; row < rows; row++) {
        const worth = new Float64Array(HOWS)
        let most = 0
        for (let how = 0; how < HOWS; how++) {
          const key = row * HOWS + how
          worth[how] = w[key] - weighted[key] / Math.max(1, t)
          most = Math.max(most, Math.abs(worth[how]))
        }
        if (most > 1e-4) out.set(name(row), worth)
      }
      return out
    },
  }
}

/** Weights learned from some notes, averaged over all steps. */
export function train(all, seed) {
  const data = all.filter(({ form, due }) => form !== 'with a yard file' && due.length > 0)
  const { scorer, counts, bump, tick, mean } = learner(usual(data))
  const rnd = randomOf(seed)
  const order = data.flatMap(({ times = 1 }, i) => new Array(times).fill(i))
  const easy = data.map(() => 0)
  for (let epoch = 0; epoch < EPOCHS; epoch++) {
    for (let i = order.length - 1; i > 0; i--) {
      const j = Math.floor(rnd() * (i + 1))
      ;[order[i], order[j]] = [order[j], order[i]]
    }
    for (const k of order) {
      const { calls, due } = data[k]
      tick()
      // what was right again and again is looked at less often
      if (easy[k] > 1 && rnd() > OFTEN) continue
      const bad = inside.follow(calls, scorer, due, COST)[0]
      easy[k] = bad.wrong === 0 ? easy[k] + 1 : 0
      if (bad.wrong === 0) continue
      const gold = inside.follow(calls, scorer, due, -MUST)[0]
      if (bad.wrong <= gold.wrong) continue
      const delta = counts(bad, counts(gold, new Map(), 1), -1)
      let norm = 0
      for (const [key, n] of delta)
        if (n === 0) delta.delete(key)
        else norm += n * n
      if (norm === 0) continue
      const loss = bad.score - (gold.score + MUST * gold.wrong)
      if (loss <= 0) continue
      const tau = Math.min(STEP, loss / norm)
      for (const [key, n] of delta) bump(key, tau * n)
    }
  }
  const out = mean()
  for (const [cue, worth] of Object.entries(BY_HAND)) out.set(cue, [worth, ...new Array(HOWS - 1).fill(0)])
  return out
}
/** The mean of several sets of weights. */
export const mean = (list) => {
  const out = new Map()
  for (const w of list)
    for (const [cue, row] of w) {
      const sum = out.get(cue) ?? new Array(HOWS).fill(0)
      for (let how = 0; how < HOWS; how++) sum[how] += row[how] / list.length
      out.set(cue, sum)
    }
  return out
}
/** The share of labelled facts whose hive is in hand where they are said, in percent. */
export function right(data, weights, form) {
  let n = 0
  let ok = 0
  const scorers = new Map()
  const scorer = (w) => {
    if (!scorers.has(w)) scorers.set(w, inside.scorerOf(w))
    return scorers.get(w)
  }
  for (const d of data) {
    if (d.form !== form) continue
    const best = inside.follow(d.calls, scorer(weights ?? d.w), d.due, 0)[0]
    n += d.due.length
    ok += d.due.length - best.wrong
  }
  return (100 * ok) / n
}

/** Of how many notes each of the averaged weights is learned: one note more or less turns single weights by much. */
const SHARE = 0.75

/** The mean of several sets of weights, each learned from other three quarters of the notes. */
export function learn(data, times) {
  const notes = [...new Set(data.map(({ note }) => note))]
  return mean(
    Array.from({ length: times }, (_, i) => {
      const rnd = randomOf(7919 * (i + 1))
      const some = new Set(notes.filter(() => rnd() < SHARE))
      return train(
        data.filter(({ note }) => some.has(note)),
        i + 1,
      )
    }),
  )
}

const FOLDS = 4

/** Weights for each note of the list that did not see it, learned on the others in four folds. */
export function heldOut(data, more = []) {
  const notes = [...new Set(data.map(({ note }) => note))]
  const out = new Map()
  for (let fold = 0; fold < FOLDS; fold++) {
    const held = new Set(notes.filter((_, i) => i % FOLDS === fold))
    const weights = train([...data.filter(({ note }) => !held.has(note)), ...more], 1)
    for (const note of held) out.set(note, weights)
  }
  return out
}
