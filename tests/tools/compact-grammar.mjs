// Packs the grammar's files for the page, where every byte goes over the air: entries column by column (like stands beside
// like), the list of common words sorted with what each shares with the word before as a digit.
import { readFileSync } from 'node:fs'
import { isDeepStrictEqual } from 'node:util'
import { isJson, unpackLines, unpackUsage, unpackWords, usageWords } from './unpack-grammar.mjs'

/** An esbuild plugin. Fails the build where unpacking would not give back the very same data. */
export const compactGrammar = {
  name: 'compact-grammar',
  setup(build) {
    build.onLoad({ filter: /[\\/]grammar[\\/]en[\\/]\w+\.json$/ }, ({ path }) => {
      const data = JSON.parse(readFileSync(path, 'utf8'))
      // lists of text other than the common words (how the trade sounds) are as short as they get
      const isText = Array.isArray(data) && isWords(data) && !path.endsWith('common.json')
      const isUsage = path.endsWith('usage.json')
      const [unpack, packed] = isUsage
        ? [unpackUsage, packUsage(data)]
        : Array.isArray(data) && !isText
          ? pack(data)
          : []
      if (!unpack) return undefined
      const { name } = unpack
      if (!isDeepStrictEqual(normal(unpack(packed)), normal(data)))
        throw new Error(`${path} does not come back as it was`)
      const code = `import { ${name} } from './unpack-grammar.mjs'\nexport default ${name}(${JSON.stringify(packed)})`
      return { contents: code, loader: 'js', resolveDir: import.meta.dirname }
    })
  },
}

/** Of a list of words neither the order nor the lines mean anything. */
const normal = (list) => (Array.isArray(list) && isWords(list) ? list.flatMap((line) => line.split(' ')).sort() : list)
const isWords = (list) => list.every((entry) => typeof entry === 'string')
/**
 * Which words follow which, as one text of small numbers: for every row its head and then its words, all as steps
 * through the sorted words, with the counts between them.
 */
function packUsage({ words, ...tables }) {
  const ids = new Map(usageWords(words).map((word, id) => [word, id]))
  const counts = [...new Set(Object.values(tables).flatMap((rows) => rows.join(' ').match(/(?<= )\d+(?= )/g)))]
  const idOf = (word) => {
    if (!ids.has(word)) throw new Error(`usage.json: "${word}" is in no line of its words`)
    return ids.get(word)
  }
  const packRows = (rows) => {
    let heads = []
    return rows.map((row) => {
      const [head, rest] = row.split(': ')
      const now = head.split(' ').map(idOf)
      const numbers = [now[0] - (heads[0] ?? -1), ...now.slice(1)]
      heads = now
      let last = -1
      for (const part of rest.split(' ')) {
        const count = /^\d+$/.test(part) ? counts.indexOf(part) : -1
        numbers.push(count >= 0 ? count : counts.length + idOf(part) - last)
        last = count >= 0 ? -1 : idOf(part)
      }
      return numbers.map(numberToText).join('')
    })
  }
  return [
    words,
    counts,
    Object.entries(tables).map(([name, rows]) => [
      name,
      rows[0].split(': ')[0].split(' ').length,
      packRows(rows).join('\n'),
    ]),
  ]
}

const numberToText = (n) => String.fromCharCode(n < 90 ? 35 + n : 256 + n)

const pack = (list) => (isWords(list) ? [unpackWords, packWords(list)] : [unpackLines, packLines(list)])

/** Entries as `[[key, …], [column, …]]`; a column is a text of one line an entry. */
function packLines(entries) {
  const keys = [...new Set(entries.flatMap(Object.keys))]
  const columns = keys.map((key) => entries.map((entry) => cell(entry[key])).join('\n'))
  return [keys, columns]
}

const cell = (value) => {
  if (value === undefined) return ''
  const isPlain = typeof value === 'string' && value !== '' && !value.includes('\n') && !isJson.test(value)
  return isPlain ? value : JSON.stringify(value)
}

/** Lines of words to one text: for every word how many letters it shares with the one before, and its other letters. */
function packWords(lines) {
  const words = lines.flatMap((line) => line.split(' '))
  let before = ''
  return words
    .sort()
    .map((word) => {
      let shared = 0
      while (shared < 9 && shared < word.length && word[shared] === before[shared]) shared++
      before = word
      return shared + word.slice(shared)
    })
    .join('')
}
