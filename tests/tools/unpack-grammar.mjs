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
