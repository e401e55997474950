// What is learned of words that name a hive (src/language/name-net.ts): the told notes, whose marks tell where each hive is called.
import { createHash } from 'node:crypto'
import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { load } from './load.mjs'
import { madeName, NUMBERS } from './made-names.mjs'
import { randomFrom } from './random.mjs'
import { learnTalkNet, talkToken } from './talk-nets.mjs'
import { isToldKept, toldNotes } from './told-notes.mjs'

const root = new URL('../../', import.meta.url)
const inside = await load('tests/tools/inside.ts')
const { plainNumberAt } = await load('src/language/amounts.ts')

/** What is known of a word: it is a hive's name, but is none called by it here; nothing of a hive; a name begins; it goes on. */
const [NOT_KNOWN, NONE, BEGINS, GOES_ON] = [-1, 0, 1, 2]
/** A hive is called within so many words behind its mark. */
const SOON = 25
/** A label has so many words at most. */
const LONGEST = 6
const NUMBERED = /^(nuc )?\d+$/

const squeezed = (text) => text.toLowerCase().replace(/[\s'’-]/g, '')

/** Where words say a label: "2b" is said "two b", too. */
function spansOf(words, label) {
  const wanted = squeezed(label)
  return words.flatMap((_, from) => {
    let said = ''
    for (let to = from; to < Math.min(words.length, from + LONGEST); ) {
      const number = plainNumberAt(words, to)
      said += number ? String(number.n) : squeezed(words[to].norm)
      to = number ? number.end : to + 1
      if (said === wanted) return [[from, to]]
      if (!wanted.startsWith(said)) break
    }
    return []
  })
}

/** What is known of each word of a note. */
function knownOf(words, marks) {
  const known = new Array(words.length).fill(NONE)
  const labels = [...new Set(marks.flatMap((mark) => mark.labels))]
  const spans = new Map(labels.map((label) => [label, spansOf(words, label)]))
  for (const label of labels)
    if (!NUMBERED.test(label)) for (const [from, to] of spans.get(label)) known.fill(NOT_KNOWN, from, to)
  marks.forEach(({ at, labels: here }, nth) => {
    const first = words.findIndex((word) => word.start >= at)
    if (first < 0) return
    const next = words.findIndex((word) => word.start >= (marks[nth + 1]?.at ?? Number.POSITIVE_INFINITY))
    const end = Math.min(first + SOON, next < 0 ? words.length : next)
    for (const label of here) {
      const hit = spans.get(label).find(([from]) => from >= first && from < end)
      if (hit) known.fill(GOES_ON, ...hit).fill(BEGINS, hit[0], hit[0] + 1)
    }
  })
  return known
}

/** The words of each told note that is not kept out as the net reads them, what is known of each, and the border before it (3: a sentence begins). */
function* plainRows() {
  for (const { gold, text, marks } of toldNotes(root)) {
    if (isToldKept(gold.note)) continue
    const words = inside
      .splitUtterances(inside.openTranscript(text, 'note.txt'), inside.english(), null)
      .flatMap((utterance) => utterance.words)
    const known = knownOf(words, marks)
    const at = inside.weighedWords(words)
    yield {
      note: gold.note,
      words: at.map((i) => talkToken(words[i].norm)),
      known: at.map((i) => known[i]),
      breaks: at.map((to, k) => Math.max(0, ...words.slice(k === 0 ? 0 : at[k - 1] + 1, to + 1).map(({ brk }) => brk))),
    }
  }
}

const ENTITLED = /^(hive|number|nuc|colony|no|box|stand)$/
const isNumber = (word) => word === '##' || NUMBERS.includes(word)

/** A note whose hives go by other names: most labels are one word or a number, but names of two and three are as good. */
function renamed({ note, words, known, breaks }) {
  const random = randomFrom(`${note} renamed`)
  const names = new Map()
  const out = { note, words: [], known: [], breaks: [] }
  const put = (said, what, brk) => {
    out.words.push(...said)
    out.known.push(...said.map((_, i) => (what === BEGINS && i > 0 ? GOES_ON : what)))
    out.breaks.push(...said.map((_, i) => (i === 0 ? brk : 0)))
  }
  for (let i = 0; i < words.length; ) {
    let end = i + 1
    if (known[i] === NONE) {
      put([words[i]], NONE, breaks[i])
      i = end
      continue
    }
    while (end < words.length && known[end] === (known[i] === NOT_KNOWN ? NOT_KNOWN : GOES_ON)) end++
    const said = words.slice(i, end)
    const name = said.join(' ')
    const stays = isNumber(name) && ENTITLED.test(words[i - 1] ?? '')
    if (!stays && !names.has(name)) names.set(name, random() < 0.85 ? madeName(random) : said)
    put(stays ? said : names.get(name), known[i], breaks[i])
    i = end
  }
  return out
}

let plain

/** All that is learned from; `half`: without that half of the notes. Every other note stands there once more under other names. */
function rowsWithout(half) {
  plain ??= [...plainRows()]
  const rows = plain.filter(({ note }) => half === null || halfOf(note) !== half)
  const more = rows.filter(
    ({ note, known }) => randomFrom(`${note} twice`)() < 0.5 && known.some((what) => what !== NONE),
  )
  return [...rows, ...more.map(renamed)]
}

/** The half that a note belongs to when hives are learned. */
export const halfOf = (note) => Math.floor(2 * randomFrom(`${note} names`)())

/** Learns a net of names; packed. `half`: without that half of the notes. */
export const learnNames = (half = null) => learnTalkNet('name_net.py', rowsWithout(half))

/** By what the nets of the halves are known again. What the grammar makes of the notes' words is left aside: it changes few of them, and to read them all takes a minute. */
function hashOfHalves() {
  const told = new URL('fixtures/told/', root)
  const files = [
    ...readdirSync(told).map((file) => new URL(file, told)),
    ...['names.mjs', 'made-names.mjs', 'name_net.py', 'talk_net.py', 'torch_nets.py'].map(
      (file) => new URL(file, import.meta.url),
    ),
  ]
  const hash = createHash('sha256')
  for (const file of files.sort()) hash.update(readFileSync(file))
  return hash.digest('hex').slice(0, 16)
}

/** For each half of the told notes a net that did not see it, learned once for the same notes. */
export async function namesOfHalves() {
  const folder = new URL(`node_modules/.cache/combscribe-names-${hashOfHalves()}/`, root)
  mkdirSync(folder, { recursive: true })
  return Promise.all(
    [0, 1].map(async (half) => {
      const file = new URL(`${half}.json`, folder)
      if (!existsSync(file)) writeFileSync(file, JSON.stringify(await learnNames(half)))
      return JSON.parse(readFileSync(file, 'utf8'))
    }),
  )
}
