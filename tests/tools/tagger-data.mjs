// What the tagger (src/clauses/tagger.ts) is learned from, word by word: the told notes as written, bare and misheard; and single
// clauses, of which it is only known what they tell as a whole.
import { readdirSync, readFileSync } from 'node:fs'
import { factOf, inside, tokensOf, utterancesIn, whereIs } from './clauses.mjs'
import { notesOf } from './labelled.mjs'
import { misheardCopies } from './misheard-copies.mjs'
import { agrees } from './score-readings.mjs'

const root = new URL('../../', import.meta.url)

/** Amounts that the reader converts are told too, so that they are not taken for others. */
const ALSO = /^(weather\.temperature|stores\.weight|weight\.\w+|stings)$/
const factTold = (field, value) =>
  ALSO.test(field) && (typeof value === 'number' || typeof value === 'object') ? `${field}=#` : factOf(field, value)

/** The words of a text as the tagger reads them, with where they stand, and where its utterances begin and end. */
function wordsIn(input) {
  const tokens = []
  const utterances = []
  for (const { words } of utterancesIn(input)) {
    const clauses = inside.clausesOf(words, inside.readAmount)
    if (clauses.length === 0) continue
    const from = tokens.length
    const { said, borders } = inside.spokenIn(clauses, words)
    for (const { spans, amounts } of clauses)
      spans.forEach(([a, b], k) => {
        const at = tokens.length - from
        const amount = amounts.find(({ token }) => token === k)?.amount
        tokens.push({ said: said[at], border: borders[at], start: words[a].start, end: words[b - 1].end, amount })
      })
    utterances.push([from, tokens.length])
  }
  return { tokens, utterances }
}

/** A row to learn from. */
const rowOf = (sort, { tokens, utterances }, marks, among) => ({
  sort,
  tokens: tokens.map(({ said }) => said),
  borders: tokens.map(({ border }) => border),
  utterances,
  marks,
  among,
})

/**
 * A labelled note: which of its words tell which fact for certain or perhaps. `placeOf` gives the number of the word at which a fact is
 * said; `misheard`: what was said, and where each place of it was heard.
 */
function ofNote({ facts, optional }, input, placeOf, misheard) {
  const heard = wordsIn(input)
  const { tokens } = heard
  const said = tokensOf(misheard?.said ?? input.text ?? input)
  const marks = []
  for (const [some, isSure] of [
    [facts, 1],
    [optional, 0],
  ])
    for (const fact of some) {
      const { field, value, quote } = fact
      const told = factTold(field, value)
      const hit = told && quote && whereIs(said, quote, said[placeOf(fact)]?.start ?? 0)
      if (!hit) continue
      const { start, end } = misheard?.at(hit) ?? hit
      const over = tokens.flatMap((token, i) => (token.start < end && token.end > start ? [i] : []))
      if (over.length === 0) continue
      const all = [over[0], over.at(-1) + 1]
      if (!told.endsWith('#')) {
        marks.push([...all, told, isSure])
        continue
      }
      const amount = over.find((i) => tokens[i].amount && agrees(inside.valueSaid(field, tokens[i].amount), value))
      for (const i of over) marks.push([i, i + 1, told, i === amount ? isSure : 0])
      // "every cell capped", "a cup": words tell the number; one that was misheard they do not
      if (amount === undefined && typeof value === 'number')
        marks.push([...all, `${field}=${value}`, misheard ? 0 : isSure])
    }
  return rowOf('note', heard, marks, [])
}

/** The told notes, each as written, bare, and with words misheard. */
function* ofNotes(part) {
  const copyOf = misheardCopies(root)
  for (const { note, gold, inputs } of notesOf(inside, root, part)) {
    // marks stand at their place in the text as written: of as many words as stand before it, bare or not
    const words = tokensOf(inputs.written.text)
    const placeOf = ({ start }) => words.findIndex(({ end }) => end > start)
    for (const input of Object.values(inputs)) yield { ...ofNote(gold, input, placeOf), note }
    const [heard, misheard] = copyOf(note, inputs)
    yield { ...ofNote(gold, heard, placeOf, misheard), note: `${note} misheard` }
  }
}

/** Single clauses and phrases (fixtures/clauses, fixtures/phrases): somewhere among their words they tell these facts, and no others. */
function* ofLines(folder, sort) {
  const here = new URL(`fixtures/${folder}/`, root)
  for (const file of readdirSync(here).filter((name) => name.endsWith('.txt') && name !== 'backlog.txt'))
    for (const line of inside.phraseLines(readFileSync(new URL(file, here), 'utf8'))) {
      const heard = wordsIn(line.said)
      const marks = []
      const among = []
      for (const [, field, said] of line.facts.map((fact) => fact.split('|'))) {
        const value = /^-?[\d.]+$|^\[/.test(said) ? JSON.parse(said) : said
        const told = factTold(field, value)
        if (!told) continue
        const says = ({ amount }) => amount && agrees(inside.valueSaid(field, amount), value)
        const at = told.endsWith('#') ? heard.tokens.findIndex(says) : -1
        if (at >= 0) marks.push([at, at + 1, told, 1])
        else if (!told.endsWith('#')) among.push(told)
        else if (typeof value === 'number') among.push(`${field}=${value}`)
      }
      yield rowOf(sort, heard, marks, among)
    }
}

/** All there is to learn from; of the told notes those of a part. */
export function* taggerData(part = 'told') {
  yield* ofNotes(part)
  yield* ofLines('clauses', 'clause')
  yield* ofLines('phrases', 'phrase')
}
