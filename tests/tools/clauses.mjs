// Learns what a clause says from its words (src/clauses): data of four sorts, and the fit.
import { once } from 'node:events'
import { readdirSync, readFileSync } from 'node:fs'
import { isMainThread, parentPort, Worker, workerData } from 'node:worker_threads'
import { amountRows, learnAmounts } from './amounts.mjs'
import { learnNet } from './clause-net.mjs'
import { notesOf } from './labelled.mjs'
import { load } from './load.mjs'
import { misheardCopies } from './misheard-copies.mjs'
import { randomOf, shuffle } from './random.mjs'
import { agrees } from './score-readings.mjs'

export const inside = await load('tests/tools/clauses-inside.ts')
const root = new URL('../../', import.meta.url)
const grammar = inside.english()

/** Values that a clause does not tell by itself: dates, names, what is converted, what other fields are worked out from. */
const NOT_BY_CLAUSE =
  /^(visit\.|weather\.temperature|stores\.weight|weight\.|honey\.(taken|moisture)|mites\.(perHundred|dropPerDay|days)|moved\.|stings$)|\.(when|amount)$|markColour|queen\.(year|origin)/
/** Of every so many notes the amounts of a misheard copy are learned, too. */
const MISHEARD = 2
/** A fact must have been told in so many clauses. */
const ENOUGH = 20

/** The fact that a clause may tell, `field=value`, `field=#`, `todo.x=due` for a plan; null for what is not told by clauses. */
export function factOf(field, value) {
  if (NOT_BY_CLAUSE.test(field)) return null
  // when it is due is read beside it
  if (/^todo\.\w+$/.test(field)) return value === 'no' ? null : `${field}=due`
  if (typeof value === 'number' || typeof value === 'object') return `${field}=#`
  return /^\d{4}-|[ =]/.test(value) ? null : `${field}=${value}`
}

/** The clauses of some text, each with where it stands and the words of the one before. */
function clausesIn(input) {
  const transcript = typeof input === 'string' ? inside.openTranscript(input, 'note') : input
  const out = []
  let turn = 0
  for (const { words, suspect } of inside.splitUtterances(transcript, grammar)) {
    if (suspect) continue
    turn++
    for (const clause of inside.clausesOf(words, inside.readAmount)) {
      const before = out.at(-1)?.clause.tokens ?? []
      out.push({ clause, before, turn, words, start: words[clause.from].start, end: words[clause.to - 1].end })
    }
  }
  return { clauses: out }
}

/** `tells`: facts that the clause tells; `open`: facts of which nobody knows whether it tells them. */
const row = ({ clause, before }, tells, open, sort = null) => {
  const cues = inside.cuesOf(clause, before).map(({ id }) => id)
  if (sort !== null) cues.push(sort)
  return { cues, tells, open, tokens: clause.tokens, before: before.slice(-inside.BEFORE) }
}

export const tokensOf = (text) =>
  [...text.toLowerCase().matchAll(/[a-z0-9']+/g)].map(({ 0: word, index }) => ({
    word,
    start: index,
    end: index + word.length,
  }))

/** Where a quote stands in the text, nearest to a place. */
export function whereIs(words, quote, near) {
  const wanted = tokensOf(quote).map(({ word }) => word)
  let best = null
  for (let i = 0; wanted.length > 0 && i + wanted.length <= words.length; i++) {
    if (!wanted.every((word, k) => words[i + k].word === word)) continue
    const far = Math.abs(words[i].start - near)
    if (!best || far < best.far) best = { far, start: words[i].start, end: words[i + wanted.length - 1].end }
  }
  return best
}

/**
 * The clauses and amounts of the labelled notes for work, or of all their parts but one: `[{ rows, amounts }]`, as written and bare;
 * and amounts of misheard copies: of what a number is one must not hang on all words around it being right. (Clauses of such copies
 * taught as much wrong as right, and made what is learned a third larger.)
 */
export function ofNotes(without) {
  const parts = ['fit', 'told'].filter((part) => part !== without)
  const copyOf = misheardCopies(root)
  return parts
    .flatMap((part) => notesOf(inside, root, part))
    .flatMap(({ note, gold, inputs }, i) => [
      ...Object.values(inputs).map((input) => ofNote(gold, input)),
      ...(i % MISHEARD === 0 ? [ofNote(gold, ...copyOf(note, inputs))] : []),
    ])
}

/** One labelled note; `misheard`: what was said, and where each place of it was heard. */
export function ofNote(gold, input, misheard) {
  const { clauses } = clausesIn(input)
  const words = tokensOf(misheard?.said ?? input.text ?? input)
  const tells = clauses.map(() => new Set())
  const open = clauses.map(() => new Set())
  const numbers = []
  let near = 0
  for (const [facts, isSure] of [
    [gold.facts, true],
    [gold.optional ?? [], false],
  ])
    for (const { field, value, quote } of facts) {
      const fact = factOf(field, value)
      const hit = fact && quote && whereIs(words, quote, near)
      if (!hit) continue
      if (isSure) near = hit.start
      const heard = misheard?.at(hit) ?? hit
      if (fact.endsWith('#')) numbers.push({ ...heard, field, value, isSure, isMisheard: misheard !== undefined })
      const over = clauses
        .map(({ start, end }, i) => ({ i, shared: Math.min(end, heard.end) - Math.max(start, heard.start) }))
        .filter(({ shared }) => shared > 0)
        .sort((a, b) => b.shared - a.shared)
      for (const { i } of over) open[i].add(fact)
      const said = ({ i }) =>
        clauses[i].clause.amounts.some(({ amount }) => agrees(inside.valueSaid(field, amount), value))
      const told = fact.endsWith('#') ? over.find(said) : over[0]
      if (told) {
        if (isSure) tells[told.i].add(fact)
        continue
      }
      // "every cell capped", "a cup": words tell the number
      if (typeof value !== 'number' || over.length === 0) continue
      const inWords = `${field}=${value}`
      for (const { i } of over) open[i].add(inWords)
      // a number that was misheard is not told by the words
      if (isSure && !misheard) tells[over[0].i].add(inWords)
    }
  return {
    rows: misheard ? [] : clauses.map((clause, i) => row(clause, tells[i], open[i])),
    amounts: amountRows(inside, clauses, numbers),
  }
}

/** Marks the sort of data, so that how densely it tells facts says nothing about notes: numbers that no cue has. */
const SORT = { phrase: -1, clause: -2, line: -3 }

const valueIn = (text) => (/^\[/.test(text) ? [0, 0] : /^-?[\d.]+$/.test(text) ? Number(text) : text)
const factsOf = (line) =>
  line.facts
    .map((fact) => fact.split('|'))
    .map(([, field, value]) => ({ field, value, fact: factOf(field, valueIn(value)) }))

/** The tables of phrases. */
export function ofPhrases() {
  const rows = []
  for (const file of readdirSync(new URL('fixtures/phrases/', root))) {
    if (!file.endsWith('.txt') || file === 'backlog.txt') continue
    for (const line of inside.phraseLines(readFileSync(new URL(`fixtures/phrases/${file}`, root), 'utf8'))) {
      const { clauses } = clausesIn(line.said)
      const facts = factsOf(line).filter(({ fact }) => fact)
      const read = inside.flatten(inside.readNote(line.said, { name: 'phrase', date: '2026-06-10', clauses: null }))
      const open = new Set(facts.map(({ fact }) => fact))
      const tells = clauses.map(() => new Set())
      for (const { field, value, fact } of facts) {
        const at = read.find((r) => r.field === field && String(r.value) === value.replace(/[[\]]/g, ''))?.start
        const i = clauses.length === 1 ? 0 : clauses.findIndex(({ start, end }) => at >= start && at < end)
        if (i >= 0) tells[i].add(fact)
      }
      rows.push(...clauses.map((clause, i) => row(clause, tells[i], open, SORT.phrase)))
    }
  }
  return rows
}

/** Single clauses that were written for this (fixtures/clauses), each taken as a whole. */
export function ofClauses() {
  const rows = []
  for (const file of readdirSync(new URL('fixtures/clauses/', root)))
    for (const line of inside.phraseLines(readFileSync(new URL(`fixtures/clauses/${file}`, root), 'utf8'))) {
      const tokens = clausesIn(line.said).clauses.flatMap(({ clause }) => clause.tokens)
      const tells = new Set(factsOf(line).flatMap(({ fact }) => fact ?? []))
      rows.push(row({ clause: { tokens }, before: [] }, tells, tells, SORT.clause))
    }
  return rows
}

const SORT_OF_AMOUNT = { n: '<n>', int: '<n>', nf: '<n>', ord: '<n>', decade: '<n>', frac: '<f>', pct: '<pct>' }
/** Clauses that each line of the grammar can say. */
const EACH = 6

/** What the lines of the grammar say that give a fact, said in some of the ways in which they can be. */
export function ofGrammar() {
  const random = randomOf(5)
  const pick = (list) => list[Math.floor(random() * list.length)]
  const all = (index) => [...index.byWord.values(), ...index.byClass.values()].flat().map((item) => item.entry ?? item)
  const lines = new Map()
  for (const entry of all(grammar.phrases)) lines.set(entry.id, [...(lines.get(entry.id) ?? []), entry])
  const terms = new Map()
  for (const entry of all(grammar.terms)) {
    const [name] = entry.line.is.split(':')
    terms.set(name, [...(terms.get(name) ?? []), entry])
  }
  /** The words of a pattern, or null where it needs a name, a date or the like. */
  function say(parts, depth = 0) {
    const out = []
    for (const part of parts) {
      if (part.kind === 'skip' || part.kind === 'ahead' || (part.optional && random() < 0.6)) continue
      if (part.kind === 'word') out.push(pick([...part.words]))
      else if (part.kind !== 'class') {
        const words = say(pick(part.alternatives), depth + 1)
        if (!words) return null
        out.push(...words)
      } else if (SORT_OF_AMOUNT[part.name]) out.push(SORT_OF_AMOUNT[part.name])
      else {
        const words =
          depth < 3 && terms.has(part.name) ? say(pick(terms.get(part.name)).pattern.parts, depth + 1) : null
        if (!words) return null
        out.push(...words)
      }
    }
    return out
  }
  const rows = []
  for (const entries of lines.values()) {
    const tells = new Set(
      entries[0].gives.flatMap(({ field, value }) => {
        if (!String(value).startsWith('$') || value === '$date') return factOf(field, value) ?? []
        return /^\$(n|int|nf|pct|frac)\b/.test(value) ? (factOf(field, 0) ?? []) : []
      }),
    )
    for (let i = 0; tells.size > 0 && i < EACH; i++) {
      const tokens = say(pick(entries).pattern.parts)
      if (tokens && tokens.length > 1) rows.push(row({ clause: { tokens }, before: [] }, tells, tells, SORT.line))
    }
  }
  return rows
}

/** A cue must stand in so many clauses. */
const SEEN = 3
const ROUNDS = 12
const RATE = 0.15
const [L1, L2] = [0.02, 0.001]
/** Log odds below which a fact that was not told is left alone. */
const OUT_OF_QUESTION = -5
const LEAST_WEIGHT = 0.5

/**
 * Learns the model: for all facts at once by stochastic gradients with rates of their own (AdaGrad), held down by L1 and L2.
 * `rows`: `{ cues, tells, open }`; `amounts`: those of `amountRows`. Gives it as it is kept: what is measured is what is shipped.
 */
export function learn(rows, amounts) {
  const told = new Map()
  for (const { tells } of rows) for (const fact of tells) told.set(fact, (told.get(fact) ?? 0) + 1)
  const facts = [...told.keys()].filter((fact) => told.get(fact) >= ENOUGH).sort()
  const number = new Map(facts.map((fact, i) => [fact, i]))
  const seen = new Map()
  for (const { cues } of rows) for (const cue of cues) seen.set(cue, (seen.get(cue) ?? 0) + 1)
  const cues = [...seen.keys()].filter((cue) => seen.get(cue) >= SEEN)
  const at = new Map(cues.map((cue, i) => [cue, i]))
  const K = facts.length
  const numbers = (set) => new Set([...set].flatMap((fact) => number.get(fact) ?? []))
  const data = rows.map(({ cues: own, tells, open }) => ({
    x: own.flatMap((cue) => at.get(cue) ?? []),
    tells: numbers(tells),
    open: numbers(open),
  }))
  const w = new Float32Array(cues.length * K)
  const squares = new Float32Array(cues.length * K).fill(0.01)
  const base = new Float64Array(K).fill(-4)
  const baseSquares = new Float64Array(K).fill(0.01)
  const odds = new Float64Array(K)
  const random = randomOf(1)
  for (let round = 0; round < ROUNDS; round++) {
    shuffle(data, random)
    for (const { x, tells, open } of data) {
      odds.set(base)
      for (const cue of x) for (let k = 0, from = cue * K; k < K; k++) odds[k] += w[from + k]
      for (let k = 0; k < K; k++) {
        const isTold = tells.has(k)
        if (!isTold && (odds[k] < OUT_OF_QUESTION || open.has(k))) continue
        const g = 1 / (1 + Math.exp(-odds[k])) - (isTold ? 1 : 0)
        if (Math.abs(g) < 0.005) continue
        for (const cue of x) {
          const i = cue * K + k
          squares[i] += g * g
          const rate = RATE / Math.sqrt(squares[i])
          const next = w[i] - rate * (g + L2 * w[i])
          const least = rate * L1
          w[i] = next > least ? next - least : next < -least ? next + least : 0
        }
        baseSquares[k] += g * g
        base[k] -= (RATE * g) / Math.sqrt(baseSquares[k])
      }
    }
  }
  const weights = new Map()
  for (const [cue, i] of at) {
    if (cue < 0) continue
    const row = []
    for (let k = 0; k < K; k++) if (Math.abs(w[i * K + k]) >= LEAST_WEIGHT) row.push([k, w[i * K + k]])
    if (row.length > 0) weights.set(cue, row)
  }
  const named = facts.map((fact) => ({ field: fact.split('=')[0], value: fact.split('=')[1] }))
  const net = learnNet(
    rows.map(({ tokens, before, tells, open }) => ({ tokens, before, tells: numbers(tells), open: numbers(open) })),
    K,
    { longest: inside.LONGEST, before: inside.BEFORE },
  )
  return {
    ...inside.packClauses({ facts: named, base, weights }),
    net: inside.packNet(net),
    amounts: learnAmounts(inside, amounts),
  }
}

/** A packed model that saw no note of a part; it is learned on a thread of its own (this file), beside what else is done. */
export async function learnedWithout(part) {
  const [packed] = await once(new Worker(new URL(import.meta.url), { workerData: { without: part } }), 'message')
  return packed
}

/** All data but the labelled notes. */
export const ofOthers = () => [...ofPhrases(), ...ofClauses(), ...ofGrammar()]

if (!isMainThread && workerData?.without !== undefined) {
  const notes = ofNotes(workerData.without)
  const rows = notes.flatMap(({ rows }) => rows)
  const amounts = notes.flatMap(({ amounts }) => amounts)
  parentPort.postMessage(learn([...rows, ...ofOthers()], amounts))
}
