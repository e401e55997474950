// A seeded model of what recognisers mishear: confusions measured with real synthesis and recognition
// (fixtures/measured-mishearings.csv), sound-alikes by the CMU Pronouncing Dictionary, lost and invented short words.
import { readFileSync } from 'node:fs'
import { dictionary } from 'cmu-pronouncing-dictionary'
import { distance } from 'fastest-levenshtein'
import { randomFrom } from './random.mjs'

/** A number of 0..12 in figures is heard as its word. */
const FIGURES = 'zero one two three four five six seven eight nine ten eleven twelve'.split(' ')
/** Words that recognisers lose and invent (function words, by public reports of recognisers' faults). */
const SHORT = new Set('a an the of and in on at to is it as so no not i we'.split(' '))
const INVENTED = ['the', 'a', 'and', 'of', 'to', 'in', 'it', 'is', 'that', 'uh']
/** Of the errors, how many lose a word and how many add one; the others put another word in its place. */
const LOST = 0.15
const ADDED = 0.1

/** Spells lists with one letter for each different member, so that a distance of letters is a distance of members. */
function spelling() {
  const letters = new Map()
  return (members) =>
    members
      .map((member) => {
        if (!letters.has(member)) letters.set(member, String.fromCharCode(65 + letters.size))
        return letters.get(member)
      })
      .join('')
}

const spellSounds = spelling()
/** A word's phonemes, stress left out; undefined for a word that the dictionary lacks. */
const sounds = (word) => dictionary[word] && spellSounds(dictionary[word].replace(/\d/g, '').split(' '))

/** Spoken phrase to what was heard for it, with counts. */
function measured(root) {
  const out = new Map()
  for (const line of readFileSync(new URL('fixtures/measured-mishearings.csv', root), 'utf8')
    .trim()
    .split('\n')
    .slice(1)) {
    const [said, heard, , , count] = line.split(',')
    if (!heard || said === heard) continue
    const list = out.get(said) ?? []
    list.push({ heard, count: Number(count) || 1 })
    out.set(said, list)
  }
  return out
}

/** The channel: `noise(text, rate, seed)` gives the text with about `rate` of its words misheard. */
export function noisyChannel(root) {
  const channel = placedChannel(root)
  return (text, rate, seed) => channel(text, rate, seed).heard
}

/**
 * The same, with where everything is heard: `{ heard, at }`; `at({ start, end })` gives the place in what was heard of a place in
 * the text, in whole words.
 */
export function placedChannel(root) {
  const confusions = measured(root)
  const common = JSON.parse(readFileSync(new URL('grammar/en/common.json', root), 'utf8')).flatMap((l) => l.split(' '))
  const heardAs = common.flatMap((word) => (sounds(word) ? [{ word, sound: sounds(word) }] : []))
  const alike = new Map()
  /** The ordinary words that sound nearest, homophones first. */
  const soundAlikes = (word) => {
    if (alike.has(word)) return alike.get(word)
    const sound = sounds(word)
    const far = (other) =>
      sound ? distance(sound, other.sound) / sound.length : distance(word, other.word) / word.length
    const near = heardAs
      .flatMap((other) => (other.word === word ? [] : [{ word: other.word, far: far(other) }]))
      .sort((a, b) => a.far - b.far || (a.word < b.word ? -1 : 1))
      .slice(0, 6)
      .map((other) => other.word)
    alike.set(word, near)
    return near
  }
  const pick = (list, random) => {
    let at = random() * list.reduce((sum, { count }) => sum + count, 0)
    return (
      list.find(({ count }) => {
        at -= count
        return at < 0
      }) ?? list[list.length - 1]
    )
  }
  const plain = (piece) => {
    const word = piece.toLowerCase().replace(/[^\p{L}\d']/gu, '')
    return FIGURES[Number(word)] && /^\d+$/.test(word) ? FIGURES[Number(word)] : word
  }

  return function noise(text, rate, seed) {
    const random = randomFrom(seed)
    const pieces = text.split(/(\s+)/)
    const out = []
    /** How many of `out` there are when a piece comes, and when it is done with. */
    const from = []
    const to = []
    for (let i = 0; i < pieces.length; i++) {
      from[i] = out.length
      const run = hear(pieces, i, out, rate, random)
      to[i] = out.length
      for (let more = 1; more < run; more++) {
        from[i + more] = from[i]
        to[i + more] = to[i]
      }
      i += run - 1
    }
    return { heard: out.join(''), at: placesIn(pieces, { from, to, out }) }
  }

  /** Puts what is heard for the piece at `i` to `out`; gives how many pieces it took. */
  function hear(pieces, i, out, rate, random) {
    const piece = pieces[i]
    const word = plain(piece)
    if (!/[\p{L}\d]/u.test(piece) || random() >= rate) {
      out.push(piece)
      return 1
    }
    const kind = random()
    const tail = /[^\p{L}\d']*$/u.exec(piece)[0]
    if (kind < LOST && SHORT.has(word)) {
      out.push(tail)
      return 1
    }
    if (kind > 1 - ADDED) {
      out.push(`${INVENTED[Math.floor(random() * INVENTED.length)]} `, piece)
      return 1
    }
    // two or three words heard as something else altogether, where that was measured
    const phrase = (length) =>
      pieces
        .slice(i, i + length)
        .map(plain)
        .filter(Boolean)
        .join(' ')
    const run = [5, 3].find((length) => {
      const next = pieces.slice(i, i + length)
      return (
        next.length === length &&
        next.slice(0, -1).every((p) => !/[.,!?;:\n]/.test(p)) &&
        confusions.has(phrase(length))
      )
    })
    if (run && random() < 0.4) {
      const list = confusions.get(phrase(run))
      out.push(pick(list, random).heard + /[^\p{L}\d']*$/u.exec(pieces[i + run - 1])[0])
      return run
    }
    const known = confusions.get(word)
    const near = known ? undefined : soundAlikes(word)
    const heard = known ? pick(known, random).heard : near[Math.floor(random() ** 2 * near.length)]
    out.push((heard ?? 'the') + tail)
    return 1
  }
}

/** Where places of a text stand in what was heard: piece by piece, what of `out` was heard for it. */
function placesIn(pieces, { from, to, out }) {
  const ends = []
  pieces.reduce((sum, piece, i) => (ends[i] = sum + piece.length), 0)
  const offsets = [0]
  for (const piece of out) offsets.push(offsets.at(-1) + piece.length)
  const pieceAt = (place) => {
    const i = ends.findIndex((end) => end > place)
    return i < 0 ? pieces.length - 1 : i
  }
  return ({ start, end }) => ({
    start: offsets[from[pieceAt(start)]],
    end: offsets[to[pieceAt(Math.max(start, end - 1))]],
  })
}

/** Word errors of `heard` against `said`: substitutions, losses and additions by the shortest way, over the words said. */
export function wordErrors(said, heard) {
  const split = (text) => text.toLowerCase().match(/[\p{L}\d']+/gu) ?? []
  const a = split(said)
  const b = split(heard)
  const spell = spelling()
  return { errors: distance(spell(a), spell(b)), words: a.length }
}
