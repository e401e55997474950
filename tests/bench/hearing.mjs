// What hints buy: word errors of pocketsphinx on spoken notes with its stock model, with the grammar that
// `combscribe hints --as jsgf` prints, and with a model of word pairs drawn from grammar/en/usage.json. The notes
// (fixtures/speech/s-*.txt) are in none of them. Needs flite and pocketsphinx of Debian.
import { spawnSync } from 'node:child_process'
import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { cmuWord } from '../tools/hearing.mjs'
import { wordErrors } from '../tools/noise.mjs'
import { spoken } from '../tools/spoken-notes.mjs'

const MODEL = '/usr/share/pocketsphinx/model/en-us'
const DICTIONARY = `${MODEL}/cmudict-en-us.dict`
const VOICES = ['slt', 'rms']
const SMALL = 'one two three four five six seven eight nine ten eleven twelve'.split(' ')
const GREAT =
  'thirteen fourteen fifteen sixteen seventeen eighteen nineteen twenty thirty forty fifty sixty seventy eighty ninety'.split(
    ' ',
  )
/** What stays for pairs that were never counted, for each kind of word that was (Witten–Bell). */
const UNSEEN = 0.6

/** Prints the word errors, or why there are none. `root` and `folder` are paths; files are written into `folder`. */
export function benchHearing(root, folder) {
  const can =
    existsSync(DICTIONARY) &&
    ['flite', 'pocketsphinx_continuous'].every((name) => spawnSync(name, ['-h']).error === undefined)
  if (!can) return console.log('word errors with hints: flite or pocketsphinx is not installed')
  const known = readFileSync(DICTIONARY, 'utf8')
  const words = new Set(known.split('\n').map((line) => line.split(' ')[0].replace(/\(\d+\)$/, '')))
  const files = Object.fromEntries(['pairs.arpa', 'words.dict', 'hive.jsgf'].map((name) => [name, join(folder, name)]))
  const { model, added } = pairModel(JSON.parse(readFileSync(join(root, 'grammar/en/usage.json'), 'utf8')), words)
  writeFileSync(files['pairs.arpa'], model)
  writeFileSync(files['words.dict'], known + added.map((word) => `${word} ${cmuWord(word)}\n`).join(''))
  const hints = spawnSync(
    process.execPath,
    [join(root, 'dist/cli.js'), 'hints', '--as', 'jsgf', '--dictionary', DICTIONARY],
    { encoding: 'utf8' },
  )
  writeFileSync(files['hive.jsgf'], hints.stdout)
  const ways = {
    'stock model': [],
    'JSGF of hints': ['-jsgf', files['hive.jsgf'], '-dict', DICTIONARY],
    'word pairs of the trade': ['-lm', files['pairs.arpa'], '-dict', files['words.dict']],
  }
  const notes = readdirSync(join(root, 'fixtures/speech'))
    .filter((file) => /^s-\d+\.txt$/.test(file))
    .sort()
  for (const [way, options] of Object.entries(ways)) {
    const sum = { errors: 0, words: 0 }
    notes.forEach((file, i) => {
      const text = readFileSync(join(root, 'fixtures/speech', file), 'utf8')
      const [said, audio] = [join(folder, 'said.txt'), join(folder, 'said.wav')]
      writeFileSync(said, spoken(text))
      spawnSync('flite', ['-voice', VOICES[i % VOICES.length], '-f', said, '-o', audio])
      const heard = spawnSync(
        'pocketsphinx_continuous',
        ['-infile', audio, '-hmm', `${MODEL}/en-us`, ...options, '-logfn', '/dev/null'],
        { encoding: 'utf8' },
      )
      const { errors, words: count } = wordErrors(text, heard.stdout)
      sum.errors += errors
      sum.words += count
    })
    console.log(
      `word errors, ${way}`.padEnd(48) +
        `${((100 * sum.errors) / sum.words).toFixed(1).padStart(9)} %    ${sum.words} words spoken`,
    )
  }
}

/** A model of word pairs in ARPA form, over the words that the dictionary has or that we can pronounce; those added. */
export function pairModel({ pairs }, dictionary) {
  const spell = (token) => (token === '#' ? SMALL : token === '##' ? GREAT : token === '|' ? ['</s>'] : [token])
  const added = new Set()
  const may = (word) => {
    if (word === '</s>') return true
    if (!/^[a-z]+$/.test(word)) return false
    if (dictionary.has(word)) return true
    if (cmuWord(word) === undefined) return false
    added.add(word)
    return true
  }
  const after = new Map()
  const alone = new Map()
  for (const line of pairs) {
    const [head, tail] = line.split(': ')
    let count = 0
    for (const part of tail.split(' ')) {
      if (/^[\d.]+$/.test(part)) {
        count = Number(part)
        continue
      }
      for (const first of spell(head))
        for (const second of spell(part)) {
          if (!may(first) || !may(second)) continue
          const before = first === '</s>' ? '<s>' : first
          if (before === '<s>' && second === '</s>') continue
          const share = count / spell(head).length / spell(part).length
          const list = after.get(before) ?? new Map()
          list.set(second, (list.get(second) ?? 0) + share)
          after.set(before, list)
          alone.set(second, (alone.get(second) ?? 0) + share)
        }
    }
  }
  for (const word of after.keys()) if (word !== '<s>' && !alone.has(word)) alone.set(word, 0.1)
  const total = [...alone.values()].reduce((a, b) => a + b, 0)
  const log = (x) => Math.log10(x).toFixed(4)
  const one = (word) => alone.get(word) / total
  const singles = ['-99.0000 <s>', ...alone.keys()].map((word) => word)
  const lines = { 1: [], 2: [] }
  for (const word of singles) {
    const name = word.startsWith('-99') ? '<s>' : word
    const list = after.get(name)
    let back = 1
    if (list) {
      const sum = [...list.values()].reduce((a, b) => a + b, 0)
      const unseen = Math.max(0.05, UNSEEN * 0.2 * list.size)
      let [seen, below] = [0, 0]
      for (const [next, count] of list) {
        const p = count / (sum + unseen)
        seen += p
        below += one(next)
        lines[2].push(`${log(p)} ${name} ${next}`)
      }
      back = Math.max(1e-4, 1 - seen) / Math.max(1e-4, 1 - below)
    }
    lines[1].push(`${name === '<s>' ? '-99.0000' : log(one(name))} ${name} ${log(back)}`)
  }
  const model = `\\data\\\nngram 1=${lines[1].length}\nngram 2=${lines[2].length}\n\n\\1-grams:\n${lines[1].join('\n')}\n\n\\2-grams:\n${lines[2].join('\n')}\n\n\\end\\\n`
  return { model, added: [...added] }
}
