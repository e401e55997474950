// Counts how common words are in talk at hives, and how many notes call a hive by them (src/hives/common-words.ts).

const wordsOf = (text) =>
  text
    .toLowerCase()
    .replaceAll('’', "'")
    .match(/\p{L}{2,}/gu) ?? []

/** `notes`: `{ note, text, labels }`, each note once. */
export function countWords({ stepOf }, notes) {
  const own = new Map()
  const [common, name] = [new Map(), new Map()]
  const count = (counts, word) => counts.set(word, (counts.get(word) ?? 0) + 1)
  for (const { note, text, labels } of notes) {
    const names = new Set(labels.flatMap(wordsOf))
    const said = new Set(wordsOf(text).filter((word) => !names.has(word)))
    own.set(note, { said, names })
    for (const word of said) count(common, word)
    for (const word of names) count(name, word)
  }
  /** What a note tells of its own words is not known when it is read. */
  const without = (note) => (word) => {
    const here = own.get(note)
    return {
      common: stepOf('common', (common.get(word) ?? 0) - (here?.said.has(word) ? 1 : 0)),
      name: stepOf('name', (name.get(word) ?? 0) - (here?.names.has(word) ? 1 : 0)),
    }
  }
  const all = () => new Map([...common.keys(), ...name.keys()].map((word) => [word, without(undefined)(word)]))
  return { without, all }
}
