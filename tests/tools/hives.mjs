// Learning which words call a hive (`lattice.mjs`) from the labelled notes. Of a note only what hive each labelled fact belongs
// to is known; which words called it is worked out while learning.
import { readdirSync, readFileSync } from 'node:fs'
import { countWords } from './common-words.mjs'
import { duesOf, hiveNotes, isKept, spoken } from './hive-notes.mjs'
import { notesOf } from './labelled.mjs'
import { learnWeights } from './lattice.mjs'
import { load } from './load.mjs'
import { halfOf, namesOfHalves } from './names.mjs'
import { plainEnglish } from './plain-english.mjs'
import { randomFrom, randomOf } from './random.mjs'
import { shortNotes } from './short-notes.mjs'
import { learnSlotNet } from './slot-net.mjs'

export const inside = await load('tests/tools/hives-inside.ts')
/** The net of names learned from the told notes: of each of them, a net that did not see it says what names a hive. */
const namers = (await namesOfHalves()).map(inside.nameReader)
const root = new URL('../../', import.meta.url)
const EPOCHS = 6
/** A cue has a weight if this many notes have it: a word beside the call, and any other. */
const NOTES = { word: 5, other: 4 }
/** What a labelled note counts (it is as long as several marked ones, and like what is to be read), and with a yard file. */
const LABELLED = 4
const WITH_YARD = 3
/** What a note counts that was written to have its labels in the text: there are many. */
const TOLD = 2
/** Told notes that weights of calls are not learned from: with them more calls of notes kept out were told apart, but their facts were read a little worse. */
const ODD = /^g[a-p]-/
/** What a phrase counts: it is short, and what it says is plain. */
const PHRASE = 10

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
 * Without the facts of parts whose hive is not called within the part: where a hive was called is told by the best of all ways
 * through the whole note that are right, by some weights. What has a number in it would be learned as a call otherwise.
 */
export function sayable(data, learned) {
  const scorer = scorerOf(learned)
  const ways = new Map()
  return data.flatMap((d) => {
    if (!d.whole) return [d]
    if (!ways.has(d.whole)) ways.set(d.whole, inside.follow(d.whole.calls, scorer, d.whole.due, -50)[0])
    const due = d.due.filter(({ at, labels }) => {
      let here = ways.get(d.whole)
      while (here.call && here.call.call.start >= at + d.from) here = here.before
      const isWithin = here.call ? here.call.call.start >= d.from : d.from === 0
      return isWithin && here.labels.some((label) => labels.includes(label))
    })
    return due.length > 0 ? [{ ...d, due }] : []
  })
}

/**
 * The notes of a part: what may call a hive, and what hive is due where. Each as written and bare; and once more, either way
 * by turns, with the hives' names as a yard file would give them; `cut`: and parts of each.
 */
export function dataOf(part, cut = false) {
  const out = []
  const notes = notesOf(inside, root, part).filter(({ note }) => part !== 'told' || !ODD.test(note))
  const named = notes.map(({ gold }) =>
    [...new Set(gold.facts.map(({ hive }) => hive))].filter((hive) => /^\p{L}{3,}/u.test(hive)),
  )
  for (const [i, { note, gold, inputs }] of notes.entries()) {
    const forms = Object.entries(inputs).map(([form, input]) => [form, input, []])
    // a yard has hives that the note says nothing of
    const others = named[(i + 7) % notes.length].slice(0, 3)
    const names = [...new Set([...named[i], ...others])]
    // of the many told notes every third is enough with a yard file
    if (named[i].length > 0 && (part !== 'told' || i % 3 === 0))
      forms.push(['with a yard file', i % 2 ? inputs.bare : inputs.written, names])
    for (const [form, input, names] of forms) {
      const namer = part === 'told' ? namers[halfOf(note)] : undefined
      const { text, calls, around } = inside.callsIn(input, names, namer)
      const weight = names.length > 0 ? WITH_YARD : part === 'told' ? TOLD : LABELLED
      const all = dues(gold, text)
      const whole = { note, form, text, weight, calls, around, due: all.filter((due) => !inPassing(calls, due)) }
      out.push(whole)
      if (cut) out.push(...partsOf(whole, { input, due: all, names, namer }))
    }
  }
  return out
}

/** What a part of a note counts. */
const PART = 1
/** How much of a note its beginnings are. */
const BEGINNINGS = [0.08, 0.2, 0.45]
/** So many stretches with one call are cut out of a note at most. */
const STRETCHES = 4

/**
 * Parts of a note, because notes are short too, and are read while they are spoken: its beginnings, and stretches that begin
 * behind the last fact of one hive and end with the last fact of the next, so that there is one call in them.
 */
function partsOf(whole, { input, due, names, namer }) {
  const { note, form } = whole
  const starts = inside.startsIn(input)
  const end = starts.length > 0 ? Math.max(...due.map(({ at }) => at), starts.at(-1)) : 0
  const spans = BEGINNINGS.map((share) => ['beginning', 0, starts.find((at) => at >= share * end) ?? end])
  const one = due.filter(({ labels }) => new Set(labels).size === 1)
  const turns = one.flatMap((d, i) => (i > 0 && one[i - 1].labels[0] !== d.labels[0] ? [i] : []))
  const some = turns.length <= STRETCHES ? turns : turns.filter((_, i) => i % Math.ceil(turns.length / STRETCHES) === 0)
  for (const i of some) {
    const next = turns.find((turn) => turn > i) ?? one.length
    const from = starts.find((at) => at >= one[i - 1].at && at <= one[i].start)
    const to = starts.find((at) => at >= one[next - 1].at)
    if (from !== undefined) spans.push(['stretch', from, to ?? Number.POSITIVE_INFINITY])
  }
  const out = []
  for (const [what, from, to] of spans) {
    const within = due.filter(({ start, at }) => start >= from && at <= to)
    if (within.length === 0 || (what === 'beginning' && within.length === due.length)) continue
    const { calls, around } = inside.callsIn(inside.cutOut(input, from, to), names, namer)
    const shifted = within.map((d) => ({ ...d, at: d.at - from, start: d.start - from }))
    const sayable = shifted.filter((d) => !inPassing(calls, d))
    out.push({ note, form: `${what} ${form}`, weight: PART, calls, around, due: sayable, whole, from })
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
      const { calls, around } = inside.callsIn(said)
      if (calls.length === 0) continue
      const readings = inside.flatten(inside.readNote(said, { name: 'phrase', date: '2026-05-20' }))
      const due = []
      const several = facts.some((fact) => !fact.startsWith('|'))
      for (const fact of facts) {
        const [hive, field, value] = fact.split('|')
        if (/^(visit|weather|forage)/.test(field) || (several && hive === '')) continue
        const found = readings.filter((r) => r.field === field && String(r.value) === value)
        // what is said of several hives is due where the reader finds it for this one
        const isShared = facts.some((other) => other !== fact && other.endsWith(`|${field}|${value}`))
        const there = found.find((r) => r.hive === hive) ?? (isShared ? undefined : found[0])
        if (there) due.push({ at: there.end, labels: [hive] })
      }
      // what is said of the weather alone calls none
      if (due.length === 0 && !several) due.push({ at: said.length, labels: [''] })
      if (due.length > 0)
        out.push({ note: said, form: 'phrase', weight: PHRASE, calls, around, due: due.sort((a, b) => a.at - b.at) })
    }
  return out
}

/** The short notes with hives marked (fixtures/hives): those to learn from (`cut`: and parts of them), or those kept out. Written and bare. */
export function dataOfHiveNotes(kept, cut = false) {
  const notes = hiveNotes(root).filter(({ name }) => isKept(name) === kept)
  return dataOfMarked(notes, cut)
}

/** Each so many notes stands in talk of other things, of so many words on either side. */
const AMID = 4
const TALK = 200

/** Short notes with plain calls (`short-notes.mjs`), some of them amid talk of other things. Written and bare. */
export function dataOfShortNotes(many, seed = 1) {
  const notes = shortNotes(many, seed).map((note, i) => {
    if (i % AMID !== 0) return note
    // that no hive is called in it is due all along
    const talk = (side, labels) =>
      plainEnglish(root, TALK, `${seed} ${i} ${side}`).map((said) => ({ labels, said: `${said} ` }))
    const { labels } = note.stretches.at(-1)
    return { ...note, stretches: [...talk('before', []), ...note.stretches, ...talk('behind', labels)] }
  })
  return dataOfMarked(notes, false)
}

function dataOfMarked(notes, cut) {
  const out = []
  for (const note of notes) {
    for (const form of ['written', 'bare']) {
      const said = spoken(note, form === 'bare')
      const { calls, around } = inside.callsIn(said.text)
      const due = duesOf(said, inside.readNote, inside.placedReadings)
      const whole = {
        note: note.name,
        form,
        text: said.text,
        calls,
        around,
        due: due.filter((d) => !inPassing(calls, d)),
      }
      out.push(whole)
      if (cut) out.push(...partsOf(whole, { input: said.text, due, names: [] }))
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

/** A scorer by what was learned. */
export const scorerOf = ({ weights, cueNet }) => inside.scorerOf(weights, inside.together(cueNet)(inside.STEP_CUES))

/** Weights, and a net of what cues are worth together, learned from some notes. */
export function train(all, seed) {
  const data = all.filter(({ due }) => due.length > 0)
  return learnWeights(
    inside,
    data.map(({ calls, due, weight = 1 }) => ({ calls, due, weight })),
    usual(data),
    randomOf(seed),
    EPOCHS,
  )
}
/** The share of labelled facts whose hive is in hand where they are said, in percent. */
export function right(data, learned, form) {
  let n = 0
  let ok = 0
  const scorers = new Map()
  const scorer = (one) => {
    if (!scorers.has(one)) scorers.set(one, scorerOf(one))
    return scorers.get(one)
  }
  for (const d of data) {
    if (d.form !== form) continue
    const best = inside.follow(d.calls, scorer(learned ?? d.learned), d.due, 0)[0]
    n += d.due.length
    ok += d.due.length - best.wrong
  }
  return (100 * ok) / n
}

/**
 * What a name of the yard file, a nuc that stands first and "hive three" first in its clause are worth at least: few notes come
 * with a yard file, and what the trade says plainly must hold in any note.
 */
const AT_LEAST = { given: 6, 'given inside': 2.9, kind: 4.5, plain: 14 }

/**
 * What a bare number with nothing of a hive behind it is worth at most: it may be anything; and "ours" said of a frame, and what another
 * hive is compared with ("as strong as three").
 */
const AT_MOST = {
  'nothing behind': { bare: -1.2 },
  'own beside frame': { any: -3 },
  // of so many numbers right behind the frame before them two in a hundred called a hive
  'beside frame +1 near': { bare: -3, maybe: -3 },
  'beside frame +1 soon': { bare: -1.2 },
  'b1 as': { any: -3 },
  'b1 than': { any: -3 },
}

/** What is learned from all notes, within those bounds. */
export function learn(data) {
  const { weights: out, cueNet } = train(data, 1)
  for (const [cue, worth] of Object.entries(AT_LEAST)) {
    const row = out.get(cue) ?? new Array(HOWS).fill(0)
    out.set(cue, [Math.max(row[0], worth), ...row.slice(1)])
  }
  for (const [cue, worths] of Object.entries(AT_MOST)) {
    const row = out.get(cue) ?? new Array(HOWS).fill(0)
    out.set(
      cue,
      row.map((x, how) => Math.min(x, worths[inside.HOW[how]] ?? x)),
    )
  }
  return { weights: out, cueNet }
}

const FOLDS = 4
export const foldOf = (note) => Math.floor(FOLDS * randomFrom(note)())

/** What the net of calls is learned from: the calls of whole notes, and whether the best right way takes them. */
const rowsOf = (data, scorer) =>
  data.flatMap(({ calls, around, due, whole }) => {
    if (whole || due.length === 0) return []
    const taken = new Set()
    for (let at = inside.follow(calls, scorer, due, -50)[0]; at?.call; at = at.before) taken.add(at.call)
    return calls.map((call, i) => ({
      slots: inside.listed((give) => inside.slotsOfCall(around[i], give)),
      tells: new Set(taken.has(call) ? [0] : []),
    }))
  })

/** The data with what a net of calls tells of each call, and how common its words are. */
export const withCues = (data, net, words) =>
  data.map((d) => {
    const odds = d.around.map((around) => net.odds(around))
    const common = words.without(d.note)
    const tops = inside.newTops()
    const label = ({ call }) => call.labels.join('+')
    d.calls.forEach((weighed, i) => {
      if (!weighed.call.step) inside.addTop(tops, label(weighed), inside.wholeSteps(odds[i]))
    })
    const calls = d.calls.map((weighed, i) => {
      const own = inside.cuesOfOdds(odds[i], d.form.includes('yard'))
      if (!weighed.call.step) {
        own.push(...inside.cuesOfWords(label(weighed), common))
        own.push(...inside.cuesOfTop(tops, label(weighed), inside.wholeSteps(odds[i])))
      }
      return { ...weighed, cues: [...weighed.cues, ...own] }
    })
    return { ...d, calls }
  })

/** How common words are in the notes of the data. */
const wordsIn = (data) =>
  countWords(
    inside,
    data
      .filter(({ form, text, note }) => form === 'written' && text !== undefined && !note.startsWith('short'))
      .map(({ note, text, due }) => ({ note, text, labels: [...new Set(due.flatMap(({ labels }) => labels))] })),
  )

/** How the net of calls is learned: a word must stand around so many calls to have numbers of its own; it soon knows its notes by heart. */
const LEARNING = { seen: 15, rounds: 2, leftOut: { word: 0.2, hidden: 0.3 } }
const netOf = (rows) => inside.packSlotNet(learnSlotNet(rows, { slots: inside.CALL_SLOTS, asked: 1, ...LEARNING }))

/**
 * The data with what nets of calls say that did not see the note, and how common words are in others; `nets` are these, of four folds,
 * and `net` (asked for) one of all.
 */
export function withNets(data, rough) {
  const scorer = scorerOf(rough)
  const words = wordsIn(data)
  const folds = Array.from({ length: FOLDS }, (_, fold) => data.filter(({ note }) => foldOf(note) === fold))
  const rows = folds.map((some) => rowsOf(some, scorer))
  const nets = folds.map((_, fold) => inside.callNet(netOf(rows.filter((_, i) => i !== fold).flat())))
  return {
    data: folds.flatMap((some, fold) => withCues(some, nets[fold], words)),
    nets,
    words,
    net: () => netOf(rows.flat()),
  }
}

/** For each fold what is learned without its notes. */
export const learnedOfFolds = (data) =>
  Array.from({ length: FOLDS }, (_, fold) =>
    train(
      data.filter(({ note }) => foldOf(note) !== fold),
      1,
    ),
  )

/** All that is learned of calls for notes that it did not see, as a reader takes it. */
export function learnedFrom(data) {
  const known = withNets(data, train(data, 1))
  const { weights, cueNet } = train(known.data, 1)
  return {
    weights,
    together: inside.together(cueNet),
    callNet: inside.callNet(known.net()),
    words: inside.commonWords(inside.packCommonWords(known.words.all())),
  }
}
