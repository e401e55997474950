// Learns where sentences and clauses begin from the whole of some talk (src/language/border-net.ts), from the marks of punctuated notes,
// and writes src/language/border-net.json.
// usage: node tests/tools/fit-borders.mjs
import { readdirSync, readFileSync } from 'node:fs'
import { hiveNotes, isKept } from './hive-notes.mjs'
import { bare, notesOf } from './labelled.mjs'
import { load } from './load.mjs'
import { learnTalkNet, shipTalkNet, talkToken } from './talk-nets.mjs'

const root = new URL('../../', import.meta.url)
const inside = await load('tests/tools/inside.ts')
/** A note with fewer marks than one to so many words teaches nothing. */
const MARKED = 12

/** Texts with marks: the transcript as written, and the same bare. */
function* texts(labelled) {
  for (const { inputs } of labelled) yield { written: inputs.written, said: inputs.bare }
  const plain = function* (dir, isOurs) {
    for (const file of readdirSync(new URL(dir, root))) {
      if (!isOurs(file)) continue
      const written = inside.openTranscript(readFileSync(new URL(dir + file, root)), file)
      const spoken = written.segments.map(({ start, end }) => written.text.slice(start, end)).join(' ')
      yield { written, said: bare(spoken) }
    }
  }
  yield* plain('fixtures/own/w/', (file) => file.endsWith('.txt') && Number(/\d+/.exec(file)[0]) % 3 !== 0)
  yield* plain('fixtures/notes/', (file) => /^\d/.test(file))
  for (const { name, stretches } of hiveNotes(root)) {
    const text = stretches.map(({ said }) => said).join('')
    if (!isKept(name)) yield { written: text, said: bare(text) }
  }
  for (const file of readdirSync(new URL('fixtures/phrases/', root))) {
    if (!file.endsWith('.txt')) continue
    for (const line of readFileSync(new URL(`fixtures/phrases/${file}`, root), 'utf8').split('\n')) {
      const [text] = line.split(' => ')
      if (!line.startsWith('#') && /[.,!?;]/.test(text.slice(0, -1))) yield { written: text, said: bare(text) }
    }
  }
}

const wordsOf = (text) =>
  inside
    .splitUtterances(typeof text === 'string' ? inside.openTranscript(text, 'note.txt') : text, inside.english(), null)
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

/** Whether a text as written has enough marks to learn from. */
const isMarked = (words) => words.filter(({ mark }) => mark !== '').length * MARKED >= words.length

/** What is due before each weighed word: the strongest border since the one before it. */
const dueOf = (at, borders) => at.map((to, k) => Math.max(...borders.slice(k === 0 ? 0 : at[k - 1] + 1, to + 1)))

/** The words of each text as the net reads them, and the border that is due before each: -1 not known, 0 none, 2 a clause, 3 a sentence. */
function* rows() {
  for (const { written, said } of texts([...notesOf(inside, root, 'fit'), ...notesOf(inside, root, 'told')])) {
    const marked = wordsOf(written)
    if (!isMarked(marked)) continue
    const words = wordsOf(said)
    const at = inside.weighedWords(words)
    yield { words: at.map((i) => talkToken(words[i].norm)), due: dueOf(at, bordersOf(words, marked)) }
  }
}

const talk = [
  'hive two lid off eight seams frame one honey about half capped other side thirty no eggs that i can see but there she is blue dot',
  'right so number five has fifteen kilos on the scale and i gave them two litres of syrup i will look again on friday',
  'queen seen',
]
const packed = await learnTalkNet('border_net.py', [...rows()])
await shipTalkNet('border-net', packed, talk)
