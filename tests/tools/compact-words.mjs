// Packs the three lists that are about single words (common.json, usage.json, sounds.json) into one: each word is spelled
// once, sorted, with what it shares with the word before; what the lists say of it stands beside. Which words follow which
// is written as steps through the words in the order of how often they are said: mostly small numbers.
import { readFileSync } from 'node:fs'
import { isDeepStrictEqual } from 'node:util'
import { COMMON, COUNTED, FIRST, FIRST_COUNT, SMALL, SOUNDS, unpackWordLists } from './unpack-words.mjs'

const folder = new URL('../../grammar/en/', import.meta.url)
const data = (name) => JSON.parse(readFileSync(new URL(`${name}.json`, folder), 'utf8'))

/** What `unpackWordLists` takes. Throws where it would not give back the very same lists. */
export function packWordLists() {
  const [common, usage, sounds] = ['common', 'usage', 'sounds'].map(data)
  const isCommon = new Set(wordsIn(common))
  const sound = new Map(couplesIn(sounds))
  const counted = [...groups(usage.words.join(' '))]
  const classes = new Map(counted)
  const counts = [...new Set(counted.map(([, count]) => count))]
  const words = [...new Set([...isCommon, ...sound.keys(), ...classes.keys()])].sort()
  const kindOf = (word) => isCommon.has(word) * COMMON + sound.has(word) * SOUNDS + classes.has(word) * COUNTED
  const inUsage = words.filter((word) => classes.has(word))
  const rank = new Map(counted.map(([word], id) => [word, id]))
  const packed = [
    frontCoded(words),
    words.map(kindOf).join(''),
    words.flatMap((word) => sound.get(word) ?? []).join(' '),
    counts,
    inUsage.map((word) => String.fromCharCode(FIRST_COUNT + counts.indexOf(classes.get(word)))).join(''),
    packRows(usage.pairs, rank, counts),
    packRows(usage.triples, rank, counts),
  ]
  const back = unpackWordLists(packed)
  const isSame =
    isDeepStrictEqual(wordsIn(back.common), [...isCommon].sort()) &&
    isDeepStrictEqual(couplesIn(back.sounds).sort(), [...sound].sort()) &&
    isDeepStrictEqual([...groups(back.usage.words.join(' '))], counted) &&
    isDeepStrictEqual(back.usage.pairs, usage.pairs) &&
    isDeepStrictEqual(back.usage.triples, usage.triples)
  if (!isSame) throw new Error('common.json, usage.json, sounds.json do not come back as they were')
  return packed
}

const wordsIn = (lines) => lines.flatMap((line) => line.split(' '))

/** Of lines `word sounds word sounds …`. */
function couplesIn(lines) {
  const parts = wordsIn(lines)
  return parts.flatMap((word, i) => (i % 2 === 0 ? [[word, parts[i + 1]]] : []))
}

/** The words of `count word word … count word …`, each with its count. */
function* groups(list) {
  let count = ''
  for (const part of list.split(' '))
    if (/^[\d.]+$/.test(part)) count = part
    else yield [part, count]
}

/** Sorted words as one text: for each how many letters it shares with the one before (a capital), and its other letters. */
export function frontCoded(words) {
  let before = ''
  return words
    .map((word) => {
      let shared = 0
      while (shared < 25 && shared < word.length && word[shared] === before[shared]) shared++
      before = word
      return String.fromCharCode(FIRST + shared) + word.slice(shared)
    })
    .join('')
}

/** Rows `head: count word …`: the head and the words behind it as steps, with the counts that are not the least. */
function packRows(rows, rank, counts) {
  const id = (word) => {
    if (!rank.has(word)) throw new Error(`usage.json: "${word}" is in no line of its words`)
    return rank.get(word)
  }
  const numbered = rows.map((row) => {
    const [head, rest] = row.split(': ')
    const words = [...groups(rest)].map(([word, count]) => [id(word), counts.indexOf(count)])
    return { head: head.split(' ').map(id), words: words.sort(([a], [b]) => a - b) }
  })
  numbered.sort((a, b) => a.head[0] - b.head[0] || a.head[1] - b.head[1])
  const least = counts.indexOf('1')
  let before = 0
  return numbered
    .map(({ head: [first, ...others], words }) => {
      const steps = [step(first - before), ...others.map(step)]
      before = first
      let last = -1
      for (const [word, count] of words) {
        steps.push(step(word - last))
        if (count !== least) steps.push(String.fromCharCode(FIRST_COUNT + count))
        last = word
      }
      return steps.join('')
    })
    .join(' ')
}

/** A number as one letter: ASCII but for quotes and escapes while it is small. */
const step = (n) => String.fromCharCode(n < SMALL ? 35 + n : 256 + n)
