// The page's half of compact-grammar.mjs.

/** Text that is JSON, or would be taken for it. */
export const isJson = /^([[{"\d-]|(true|false|null)$)/

/** A value from its cell: JSON, or text with its slashes set close; texts of a list each end with `;` (the last may go without). */
export function valueIn(cell) {
  if (isJson.test(cell)) return JSON.parse(cell)
  const text = cell.replaceAll('/', ' / ')
  return text.includes(';') ? text.replace(/;$/, '').split(';') : text
}

/** Each file's entries, from the columns of all. */
export function unpackFiles([lengths, keys, columns]) {
  const entries = columns[0].split('\n').map(() => ({}))
  columns.forEach((column, i) => {
    column.split('\n').forEach((cell, at) => {
      if (cell !== '') entries[at][keys[i]] = valueIn(cell)
    })
  })
  const files = {}
  let at = 0
  for (let i = 0; i < lengths.length; i += 2) {
    files[lengths[i]] = entries.slice(at, at + lengths[i + 1])
    at += lengths[i + 1]
  }
  return files
}
