// Learning which words call a hive, from the labelled notes: a structured perceptron with hidden calls. Of a note only what
// hive each labelled fact belongs to is known; which words called it is worked out while learning.
import { readdirSync, readFileSync } from 'node:fs'
import { notesOf } from './labelled.mjs'
import { load } from './load.mjs'

export const inside = await load('tests/tools/hives-inside.ts')
const root = new URL('../../', import.meta.url)
const EPOCHS = 15
/** The largest step of one update (passive-aggressive learning, Crammer et al. 2006); and what a wrong fact costs. */
const STEP = 0.05
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
      const inPassing = ({ at, start, labels }) =>
        calls.some(
          ({ call }) =>
            call.kind === 'local' &&
            call.labels.some((label) => labels.includes(label)) &&
            call.start >= start - 40 &&
            call.end <= at + 40,
        )
      // of a hive that is named in passing just there, the follower need not know
      out.push({ note, form, calls, due: dues(gold, text).filter((due) => !inPassing(due)) })
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
      const due = []
      for (const fact of facts) {
        const [hive, field, value] = fact.split('|')
        const found = inside
          .flatten(inside.readNote(said, { name: 'phrase', date: '2026-05-20' }))
          .find((r) => r.field === field && String(r.value) === value)
        if (found && !/^(visit|weather|forage)/.test(field)) due.push({ at: found.end, labels: [hive] })
      }
      if (due.length > 0) out.push({ note: said, form: 'phrase', calls, due: due.sort((a, b) => a.at - b.at) })
    }
  return out
}

// which cues are there in enough notes
function cuesOf(path) {
  const out = new Map()
  for (let at = path; at?.call; at = at.before)
    for (const cue of [...at.call.cues, ...inside.stepCues(at.before, at.call, at.labels)])
      out.set(cue, (out.get(cue) ?? 0) + 1)
  return out
}
function usual(data) {
  const seen = new Map()
  for (const { note, calls } of data) {
    const here = new Set(calls.flatMap(({ cues }) => cues))
    for (const cue of here) {
      const s = seen.get(cue) ?? new Set()
      s.add(note)
      seen.set(cue, s)
    }
  }
  // a word beside the call must be met in more notes than what is counted or built up
  const lexical = /\|[ab][12] /
  return new Set(
    [...seen].filter(([cue, s]) => s.size >= (lexical.test(cue) ? NOTES.word : NOTES.other)).map(([cue]) => cue),
  )
}
const random = (seed) => () => {
  seed = (seed + 0x6d2b79f5) | 0
  let t = Math.imul(seed ^ (seed >>> 15), 1 | seed)
  t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t
  return ((t ^ (t >>> 14)) >>> 0) / 4294967296
}
const isStep = (cue) =>
  /\|(same|back|opens|new|after|word|nuc|number|\+|-1|up|down|far|at once|soon|later|late|long|kin|odd)/.test(cue)
/** Weights learned from some notes, averaged over all steps. */
export function train(all, seed) {
  const data = all.filter(({ form }) => form !== 'with a yard file')
  const known = usual(data)
  const w = new Map()
  const total = new Map()
  const since = new Map()
  let t = 0
  const bump = (cue, d) => {
    total.set(cue, (total.get(cue) ?? 0) + (w.get(cue) ?? 0) * (t - (since.get(cue) ?? 0)))
    since.set(cue, t)
    w.set(cue, (w.get(cue) ?? 0) + d)
  }
  const rnd = random(seed)
  const order = data.map((_, i) => i)
  for (let epoch = 0; epoch < EPOCHS; epoch++) {
    for (let i = order.length - 1; i > 0; i--) {
      const j = Math.floor(rnd() * (i + 1))
      ;[order[i], order[j]] = [order[j], order[i]]
    }
    for (const k of order) {
      const { calls, due } = data[k]
      t++
      if (due.length === 0) continue
      const gold = inside.follow(calls, w, due, -MUST)[0]
      const bad = inside.follow(calls, w, due, COST)[0]
      if (bad.wrong <= gold.wrong) continue
      const g = cuesOf(gold)
      const b = cuesOf(bad)
      const delta = new Map()
      for (const [cue, n] of g) delta.set(cue, n)
      for (const [cue, n] of b) delta.set(cue, (delta.get(cue) ?? 0) - n)
      let norm = 0
      for (const [cue, n] of delta) {
        if (n === 0 || (!known.has(cue) && !isStep(cue))) delta.delete(cue)
        else norm += n * n
      }
      if (norm === 0) continue
      const loss = bad.score - (gold.score + MUST * gold.wrong)
      if (loss <= 0) continue
      const tau = Math.min(STEP, loss / norm)
      for (const [cue, n] of delta) bump(cue, tau * n)
    }
  }
  for (const cue of w.keys()) bump(cue, 0)
  const out = new Map([...total].map(([cue, sum]) => [cue, sum / t]).filter(([, x]) => Math.abs(x) > 1e-4))
  for (const [cue, worth] of Object.entries(BY_HAND)) out.set(`*|${cue}`, worth)
  return out
}
/** The mean of several sets of weights. */
export const mean = (list) => {
  const out = new Map()
  for (const w of list) for (const [cue, x] of w) out.set(cue, (out.get(cue) ?? 0) + x / list.length)
  return out
}
/** The share of labelled facts whose hive is in hand where they are said, in percent. */
export function right(data, weights, form) {
  let n = 0
  let ok = 0
  for (const d of data) {
    if (d.form !== form) continue
    const best = inside.follow(d.calls, weights ?? d.w, d.due, 0)[0]
    n += d.due.length
    ok += d.due.length - best.wrong
  }
  return (100 * ok) / n
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
