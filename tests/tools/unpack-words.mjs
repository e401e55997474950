// The page's half of compact-words.mjs.

/** What is known of a word, added up. */
export const COMMON = 1
export const SOUNDS = 2
export const COUNTED = 4
/** Counts are letters from here on; steps below `SMALL` are the letters before them, greater ones far behind. */
export const FIRST_COUNT = 93
export const SMALL = FIRST_COUNT - 36

/** How many letters are shared is a capital from here on. */
export const FIRST = 65

/** Words that were packed by what each shares with the one before. */
export function wordsOf(spelled) {
  let word = ''
  return spelled.match(/[A-Z][^A-Z]*/g).map((part) => {
    word = word.slice(0, part.charCodeAt(0) - FIRST) + part.slice(1)
    return word
  })
}

/** The lists as `grammar/en/` has them (but for where their lines end). */
export function unpackWordLists([spelled, kinds, sounds, counts, classes, pairs, triples]) {
  const words = wordsOf(spelled)
  const ofKind = (kind) => words.filter((_, i) => Number(kinds[i]) & kind)
  const sound = sounds.split(' ')
  const classOf = new Map(ofKind(COUNTED).map((one, i) => [one, classes.charCodeAt(i) - FIRST_COUNT]))
  const usage = grouped([...classOf], counts)
  const ranked = usage.split(' ').filter((part) => classOf.has(part))
  return {
    common: [ofKind(COMMON).join(' ')],
    sounds: [
      ofKind(SOUNDS)
        .map((one, i) => `${one} ${sound[i]}`)
        .join(' '),
    ],
    usage: {
      words: [usage],
      pairs: unpackRows(pairs, 1, ranked, counts),
      triples: unpackRows(triples, 2, ranked, counts),
    },
  }
}

/** `count word word … count word …`, the most frequent first, of words with the numbers of their counts. */
function grouped(list, counts) {
  const by = counts.map(() => [])
  for (const [word, count] of list) by[count].push(word)
  return by
    .flatMap((words, count) => (words.length > 0 ? [`${counts[count]} ${words.sort().join(' ')}`] : []))
    .join(' ')
}

function unpackRows(text, headWords, ranked, counts) {
  const least = counts.indexOf('1')
  let first = 0
  return text
    .split(' ')
    .map((row) => {
      const steps = [...row].map((letter) => letter.charCodeAt(0))
      const number = (code) => (code < 256 ? code - 35 : code - 256)
      first += number(steps[0])
      const head = [first, ...steps.slice(1, headWords).map(number)].map((id) => ranked[id])
      let last = -1
      const words = []
      for (const code of steps.slice(headWords)) {
        if (code >= FIRST_COUNT && code < 256) words[words.length - 1][1] = code - FIRST_COUNT
        else {
          last += number(code)
          words.push([ranked[last], least])
        }
      }
      return [head.join(' '), grouped(words, counts)]
    })
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([head, list]) => `${head}: ${list}`)
}
