// Makes what tells misheard words: how the talk at hives goes (counts of words, pairs and triples), how its words sound, and
// what recognisers were found to write instead. Writes grammar/en/{usage,sounds,heard}.json.
// usage: node tests/tools/hearing.mjs        again when the grammar or the labelled notes have changed much
import { readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { dictionary } from 'cmu-pronouncing-dictionary'
import { notesOf } from './labelled.mjs'
import { load } from './load.mjs'
import { randomFrom } from './random.mjs'

const LETTERS = Object.fromEntries(
  'AA a,AE A,AH u,AO o,AW W,AY I,EH e,ER R,EY E,IH i,IY Y,OW O,OY Q,UH U,UW V,B b,CH c,D d,DH D,F f,G g,HH h,JH j,K k,L l,M m,N n,NG N,P p,R r,S s,SH S,T t,TH T,V v,W w,Y y,Z z,ZH Z'
    .split(',')
    .map((pair) => pair.split(' ')),
)
/** What a sentence of the grammar counts, against one that was said. */
const FROM_GRAMMAR = 0.15
/** Words of the trade that the dictionary lacks. */
const LACKING = {
  neighbour: 'nEbR',
  neighbours: 'nEbRz',
  colour: 'kulR',
  colours: 'kulRz',
  coloured: 'kulRd',
  favourite: 'fEvrut',
  grey: 'grE',
  centre: 'sentR',
  mould: 'mOld',
  mouldy: 'mOldY',
  acarine: 'AkRYn',
  amitraz: 'AmitrAz',
  apiaries: 'EpYerYz',
  apiary: 'EpYerY',
  apiarist: 'EpYurist',
  bearding: 'birdiN',
  brace: 'brEs',
  broodless: 'brVdlus',
  buckfast: 'bukfAst',
  cappings: 'kApiNz',
  carniolan: 'karnYOlun',
  chalkbrood: 'cokbrVd',
  checkerboarded: 'cekRbordid',
  crownboard: 'krWnbord',
  coverboard: 'kuvRbord',
  dadant: 'dAdunt',
  deeps: 'dYps',
  demaree: 'demurY',
  eke: 'Yk',
  excluder: 'ikskludR',
  excluders: 'ikskludRz',
  fondant: 'fandunt',
  foulbrood: 'fWlbrVd',
  honeybound: 'hunYbWnd',
  hygienic: 'hIjYnik',
  langstroth: 'lANstroT',
  litre: 'lYtR',
  litres: 'lYtRz',
  mils: 'milz',
  mouseguard: 'mWsgard',
  nadired: 'nEdird',
  nosema: 'nOsYmu',
  nuc: 'nVk',
  nucs: 'nVks',
  overwintered: 'OvRwintRd',
  oxalic: 'aksAlik',
  propolis: 'prapulis',
  propolised: 'prapulIzd',
  pupae: 'pyVpY',
  queencup: 'kwYnkup',
  queenless: 'kwYnlus',
  queenright: 'kwYnrIt',
  reducer: 'ridVsR',
  requeen: 'rYkwYn',
  requeened: 'rYkwYnd',
  requeening: 'rYkwYniN',
  sacbrood: 'sAkbrVd',
  skep: 'skep',
  supering: 'sVpRiN',
  supersedure: 'sVpRsYjR',
  supersede: 'sVpRsYd',
  supers: 'sVpRz',
  superseding: 'sVpRsYdiN',
  thymol: 'TImol',
  uncapped: 'unkApt',
  vaporise: 'vEpRIz',
  vaporised: 'vEpRIzd',
  vaporiser: 'vEpRIzR',
  varroa: 'vurOu',
  warre: 'worE',
  formic: 'formik',
  nectar: 'nektR',
  bruised: 'brVzd',
}

const NAMES = Object.fromEntries(Object.entries(LETTERS).map(([name, letter]) => [letter, name]))
/** A word in the sounds that recognisers of the CMU family take ("F R EY M"). */
export const cmuWord = (word) =>
  dictionary[word]?.replace(/\d/g, '') ?? (LACKING[word] && [...LACKING[word]].map((letter) => NAMES[letter]).join(' '))

export const cmuSounds = (word) =>
  LACKING[word] ??
  dictionary[word]
    ?.replace(/\d/g, '')
    .split(' ')
    .map((sound) => LETTERS[sound])
    .join('')

/** What is counted: for each document its sequences of tokens, and how much one counts. */
export function documents(inside, root, notes) {
  const tokens = (text) => {
    const transcript = typeof text === 'string' ? inside.openTranscript(text, 'text') : text
    return inside.usageTokens(
      inside
        .splitUtterances(transcript, { ...inside.english(), hearing: undefined }, null)
        .flatMap(({ words }) => words),
    )
  }
  const out = notes.map(({ note, inputs }) => ({ name: note, runs: [tokens(inputs.written), tokens(inputs.bare)] }))
  for (const file of readdirSync(new URL('fixtures/phrases/', root))) {
    if (!file.endsWith('.txt')) continue
    const said = readFileSync(new URL(`fixtures/phrases/${file}`, root), 'utf8')
      .split('\n')
      .filter((line) => line && !line.startsWith('#'))
      .map((line) => line.split(' => ')[0])
    for (let i = 0; i < said.length; i += 40)
      out.push({ name: `${file} ${i}`, runs: [tokens(said.slice(i, i + 40).join('\n'))] })
  }
  out.push(...fromGrammar(inside))
  return out
}

/** Ways of saying what the lines of the grammar hold, chosen by a seed: each line counts as a few sentences. */
function fromGrammar(inside) {
  const { terms, phrases, cues } = inside.english()
  const entries = (index) => [...new Set([...index.byWord.values(), ...index.byClass.values()].flat())]
  const byClass = new Map()
  for (const entry of entries(terms)) {
    const name = entry.line.is.split(':')[0]
    byClass.set(name, [...(byClass.get(name) ?? []), entry])
  }
  const say = (parts, random, depth = 0) =>
    parts.flatMap((part) => {
      if (part.kind === 'skip') return ['\n']
      if (part.kind === 'ahead') return []
      if (part.optional && random() < 0.5) return []
      const one = (list) => list[Math.floor(random() * list.length)]
      if (part.kind === 'word') return [one([...part.words])]
      if (part.kind === 'group') return say(one(part.alternatives), random, depth)
      if (['n', 'int', 'hiveno'].includes(part.name)) return ['four']
      if (part.name === 'nf') return ['four', 'frames']
      if (part.name === 'pct') return ['fifty', 'percent']
      if (part.name === 'frac') return ['half']
      if (part.name === 'ord') return ['second']
      const of = byClass.get(part.name)
      return of && depth < 3 ? say(one(of).pattern.parts, random, depth + 1) : ['\n']
    })
  const docs = []
  for (const entry of [...entries(phrases), ...entries(terms), ...entries(cues)]) {
    const random = randomFrom(entry.id + entry.order)
    const runs = Array.from({ length: 3 }, () => {
      const words = say(entry.pattern.parts, random).join(' ').split('\n')
      return words
        .map((run) => run.trim().split(' ').filter(Boolean).map(inside.usageToken))
        .filter((run) => run.length > 1)
    }).flat()
    docs.push({ name: entry.id, runs, share: 1 })
  }
  return docs
}

/** Counts of some documents, as the lists that the grammar holds. */
export function usageOf(docs, { pairs: leastPairs = 0.9, triples: leastTriples = 3 } = {}) {
  const counts = [new Map(), new Map(), new Map()]
  const inDocs = [new Map(), new Map(), new Map()]
  docs.forEach(({ runs, share = runs.length }) => {
    const here = new Map()
    for (const run of runs)
      for (let i = 0; i < run.length; i++)
        for (let n = 1; n <= 3 && i + n <= run.length; n++) {
          const key = run.slice(i, i + n).join(' ')
          counts[n - 1].set(key, (counts[n - 1].get(key) ?? 0) + (share === 1 ? FROM_GRAMMAR : 1 / share))
          here.set(key, n)
        }
    for (const [key, n] of here) inDocs[n - 1].set(key, (inDocs[n - 1].get(key) ?? 0) + 1)
  })
  const words = [...counts[0]].filter(([w]) => inDocs[0].get(w) >= 2 || w === '|')
  const kept = new Set(words.map(([w]) => w))
  const lines = (n, least) => {
    const by = new Map()
    for (const [key, count] of counts[n - 1]) {
      if (count < least) continue
      const parts = key.split(' ')
      if (!parts.every((p) => kept.has(p))) continue
      const head = parts.slice(0, -1).join(' ')
      by.set(head, [...(by.get(head) ?? []), [parts.at(-1), count]])
    }
    return [...by].sort(([a], [b]) => (a < b ? -1 : 1)).map(([head, list]) => `${head}: ${grouped(list)}`)
  }
  return { words: lineUp(grouped(words)), pairs: lines(2, leastPairs), triples: lines(3, leastTriples) }
}

/** Few different counts: what tells words apart is how many times more often one is said. */
const coarse = (count) =>
  count < 0.6 ? 0.3 : count < 1.5 ? 1 : count < 3 ? 2 : Math.round(1.5 ** Math.round(Math.log(count) / Math.log(1.5)))

/** `count word word … count word …`, the most frequent first. */
function grouped(list) {
  const by = new Map()
  for (const [word, count] of list) by.set(coarse(count), [...(by.get(coarse(count)) ?? []), word])
  return [...by]
    .sort(([a], [b]) => b - a)
    .map(([count, words]) => `${count} ${words.sort().join(' ')}`)
    .join(' ')
}

/** Cuts a long list into lines; each begins with a count. */
function lineUp(list) {
  const out = []
  let line = ''
  let count = ''
  for (const part of list.split(' ')) {
    if (/^[\d.]+$/.test(part)) count = part
    if (line.length > 110) {
      out.push(line)
      line = /^[\d.]+$/.test(part) ? '' : count
    }
    line = line === '' ? part : `${line} ${part}`
  }
  return [...out, line]
}

/** Sounds of words that the rules of spelling get wrong. */
export function soundsOf(inside, words) {
  const out = []
  for (const word of words) {
    const sounds = cmuSounds(word)
    if (!sounds) continue
    const far = inside.soundDistance(inside.soundCodes(sounds), inside.soundCodes(inside.soundsByRule(word)))
    if (far > Math.min(0.8, 0.15 * sounds.length)) out.push(`${word} ${sounds}`)
  }
  const lines = []
  for (let i = 0; i < out.length; i += 8) lines.push(out.slice(i, i + 8).join(' '))
  return lines
}

/** A number of a text, the same on every machine (FNV-1a). */
export function hash(text) {
  let state = 0x811c9dc5
  for (const letter of text) state = Math.imul(state ^ letter.codePointAt(0), 0x01000193)
  return (state ^ (state >>> 15)) >>> 0
}

/** Measured mishearings: `said: heard share`. Half of the pairs, by their letters; the other half is kept for measuring. */
export function measuredPairs(root, half = true) {
  const counts = new Map()
  for (const line of readFileSync(new URL('fixtures/measured-mishearings.csv', root), 'utf8')
    .trim()
    .split('\n')
    .slice(1)) {
    const [said, heard, , , count] = line.split(',')
    if (!heard) continue
    const of = counts.get(said) ?? new Map()
    of.set(heard, (of.get(heard) ?? 0) + (Number(count) || 1))
    counts.set(said, of)
  }
  const out = []
  for (const [said, of] of counts) {
    const total = [...of.values()].reduce((a, b) => a + b, 0)
    const list = [...of].filter(
      ([heard]) =>
        heard !== said &&
        (!half || hash(`${said} ${heard}`) % 2 === 0) &&
        said.split(' ').length < 3 &&
        heard.split(' ').length < 3,
    )
    if (list.length)
      out.push(`${said}: ${list.map(([heard, n]) => `${heard} ${(n / (total + 1)).toFixed(2)}`).join(', ')}`)
  }
  return out
}

/** Everything that `grammar/en/` holds for hearing, drawn from some documents. */
export function hearingData(inside, root, docs) {
  const usage = usageOf(docs)
  const words = new Set([...usage.words.flatMap((line) => line.split(' ')), ...inside.englishVocabulary().common])
  return { ...usage, sounds: soundsOf(inside, words), heard: measuredPairs(root) }
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const root = new URL('../../', import.meta.url)
  const inside = await load('tests/tools/inside.ts')
  const { sounds, heard, ...usage } = hearingData(inside, root, documents(inside, root, notesOf(inside, root, 'fit')))
  const lists = (x) =>
    Array.isArray(x) ? `[\n${x.map((line) => `  ${JSON.stringify(line)}`).join(',\n')}\n]` : JSON.stringify(x)
  const write = (name, text) => writeFileSync(new URL(`grammar/en/${name}.json`, root), `${text}\n`)
  write(
    'usage',
    `{\n${Object.entries(usage)
      .map(([name, list]) => `"${name}": ${lists(list)}`)
      .join(',\n')}\n}`,
  )
  write('sounds', lists(sounds))
  write('heard', lists(heard))
}
