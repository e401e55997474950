// The page's half of compact-grammar.mjs.

/** Text that is JSON, or would be taken for it. */
export const isJson = /^([[{"\d-]|(true|false|null)$)/

/** Entries from their columns. */
export function unpackLines([keys, columns]) {
  const entries = columns[0].split('\n').map(() => ({}))
  columns.forEach((column, i) => {
    column.split('\n').forEach((cell, at) => {
      if (cell !== '') entries[at][keys[i]] = isJson.test(cell) ? JSON.parse(cell) : cell
    })
  })
  return entries
}

/** A list of words, one line, from what each shares with the word before. */
export function unpackWords(packed) {
  let word = ''
  return [
    packed
      .match(/\d[^\d]*/g)
      .map((part) => {
        word = word.slice(0, Number(part[0])) + part.slice(1)
        return word
      })
      .join(' '),
  ]
}

/** The words of usage.json, sorted. */
export const usageWords = (lines) =>
  [...new Set(lines.flatMap((line) => line.split(' ')).filter((word) => !/^\d+$/.test(word)))].sort()

/** Which words follow which, from the steps through the sorted words. */
export function unpackUsage([words, counts, tables]) {
  const all = usageWords(words)
  const usage = { words }
  for (const [name, headWords, text] of tables) {
    let first = -1
    usage[name] = text.split('\n').map((row) => {
      const numbers = [...row].map((letter) => {
        const code = letter.charCodeAt(0)
        return code < 256 ? code - 35 : code - 256
      })
      first += numbers[0]
      const head = [first, ...numbers.slice(1, headWords)].map((id) => all[id])
      let last = -1
      const rest = numbers.slice(headWords).map((number) => {
        if (number < counts.length) {
          last = -1
          return counts[number]
        }
        last += number - counts.length
        return all[last]
      })
      return `${head.join(' ')}: ${rest.join(' ')}`
    })
  }
  return usage
}
