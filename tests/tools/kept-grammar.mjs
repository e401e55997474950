// The command's half of keep-grammar.mjs.
import { parsePattern } from '../../src/grammar/pattern.ts'
import { numberOfList } from '../../src/grammar/present.ts'

/** What `src/grammar/kept.ts` is to export. */
export function keptGrammar(json, meant) {
  const table = JSON.parse(json)
  const sets = []
  const lists = []
  const numbers = []
  const kept = {
    lists: (text) => (lists[text] ??= partsOf(table.texts[text])),
    set: (text) => (sets[text] ??= new Set(kept.lists(text))),
    number: (text) => (numbers[text] ??= numberOfList(kept.set(text))),
  }
  return {
    pattern: (order, source, words) =>
      table.rows[order] ? new KeptPattern(table.rows[order], source, words, kept) : undefined,
    words: () => new Set(table.words.split(' ')),
    meant: () => JSON.parse(meant),
  }
}

/** A pattern of which most is known; its parts are parsed when it is to be matched. */
class KeptPattern {
  constructor(row, source, words, kept) {
    this.row = row
    this.source = source
    this.words = words
    this.kept = kept
    this.known = undefined
    this.needs = undefined
  }
  get parts() {
    this.known ??= parsePattern(this.source, this.words)
    return this.known
  }
  get firstWords() {
    return this.kept.set(this.row[0])
  }
  get firstClasses() {
    return this.kept.lists(this.row[1])
  }
  get classes() {
    return this.kept.lists(this.row[2])
  }
  get must() {
    this.needs ??= this.row.slice(3).map(this.kept.number)
    return this.needs
  }
}

const partsOf = (text) => (text === '' ? [] : text.split(' '))
