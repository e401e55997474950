// Learns the tagger (src/clauses/tagger.ts) from the told notes and writes src/clauses/tagger.json.
// usage: node tests/tools/fit-tagger.mjs
import { once } from 'node:events'
import { createWriteStream, mkdtempSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { factOf, inside, tokensOf, whereIs } from './clauses.mjs'
import { notesOf } from './labelled.mjs'
import { agrees } from './score-readings.mjs'
import { learnedBy, run } from './torch.mjs'

const root = new URL('../../', import.meta.url)
const grammar = inside.english()

/** Amounts that the reader converts are told too, so that they are not taken for others. */
const ALSO = /^(weather\.temperature|stores\.weight|weight\.\w+|stings)$/
const factTold = (field, value) =>
  ALSO.test(field) && (typeof value === 'number' || typeof value === 'object') ? `${field}=#` : factOf(field, value)

/** The words of a note as the tagger reads them, where its utterances begin and end, and what its words tell. */
function ofNote(gold, input, placeOf) {
  const transcript = typeof input === 'string' ? inside.openTranscript(input, 'note') : input
  const tokens = []
  const utterances = []
  for (const { words, suspect } of inside.splitUtterances(transcript, grammar)) {
    const clauses = suspect ? [] : inside.clausesOf(words, inside.readAmount)
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
  const text = tokensOf(transcript.text)
  const marks = []
  for (const [facts, isSure] of [
    [gold.facts, 1],
    [gold.optional, 0],
  ])
    for (const fact of facts) {
      const { field, value, quote } = fact
      const told = factTold(field, value)
      const hit = told && quote && whereIs(text, quote, text[placeOf(fact)]?.start ?? 0)
      if (!hit) continue
      const over = tokens.flatMap(({ start, end }, i) => (start < hit.end && end > hit.start ? [i] : []))
      if (over.length === 0) continue
      const all = [over[0], over.at(-1) + 1]
      if (!told.endsWith('#')) {
        marks.push([...all, told, isSure])
        continue
      }
      const said = over.find((i) => tokens[i].amount && agrees(inside.valueSaid(field, tokens[i].amount), value))
      for (const i of over) marks.push([i, i + 1, told, i === said ? isSure : 0])
      // "every cell capped", "a cup": words tell the number
      if (said === undefined && typeof value === 'number') marks.push([...all, `${field}=${value}`, isSure])
    }
  return { tokens: tokens.map(({ said }) => said), borders: tokens.map(({ border }) => border), utterances, marks }
}

const folder = mkdtempSync(join(tmpdir(), 'tagger-'))
const notes = join(folder, 'notes.jsonl')
const out = createWriteStream(notes)
for (const { gold, inputs } of notesOf(inside, root, 'told')) {
  // marks stand at their place in the text as written: of as many words as stand before it, bare or not
  const words = tokensOf(inputs.written.text)
  const placeOf = ({ start }) => words.findIndex(({ end }) => end > start)
  for (const input of Object.values(inputs)) out.write(`${JSON.stringify(ofNote(gold, input, placeOf))}\n`)
}
out.end()
await once(out, 'finish')
const net = await learnedBy('tagger.py', notes, join(folder, 'net.json'))
const packed = inside.packTagger(net)
writeFileSync(new URL('../../src/clauses/tagger.json', import.meta.url), `${JSON.stringify(packed, null, 2)}\n`)
await writeReference(packed)
console.log(`${net.facts.length} facts, ${net.words.size} words`)

/** What PyTorch makes of some talk with the net as it ships: the tests compare ours with it. */
async function writeReference(packed) {
  const talk =
    'Hive two. Lid off, eight seams. Frame one, honey, about half capped. Other side, thirty. No eggs that I can see, but there she is, blue dot. I gave them two litres of syrup and I will look again on Friday.'
  const utterances = inside.splitUtterances(inside.openTranscript(talk, 'talk'), grammar).map(({ words }) => {
    const { said, borders } = inside.spokenIn(inside.clausesOf(words, inside.readAmount), words)
    return [said, borders]
  })
  const { words, ...rest } = inside.unpackTagger(packed)
  const plain = Object.fromEntries(
    Object.entries(rest).map(([name, value]) => [name, ArrayBuffer.isView(value) ? [...value] : value]),
  )
  const file = join(folder, 'shipped.json')
  writeFileSync(file, JSON.stringify({ ...plain, words: [...words.keys()], utterances }))
  await run('tagger_reference.py', file, new URL('../../fixtures/tagger/pytorch.json', import.meta.url).pathname)
}
