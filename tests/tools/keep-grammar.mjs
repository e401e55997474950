// Works out beforehand, for Node, what is asked of most patterns of the grammar: with which words they begin and which they
// cannot do without. So a command parses only the few patterns that may fit its words. And how the words sound that others may
// have been meant for.
import { isDeepStrictEqual } from 'node:util'
import { load } from './load.mjs'

/** An esbuild plugin. Fails the build where the table would not say the same as the patterns. */
export const keepGrammar = {
  name: 'keep-grammar',
  setup(build) {
    build.onLoad({ filter: /[\\/]src[\\/]grammar[\\/]kept\.ts$/ }, async () => ({
      contents: `import { keptGrammar } from './kept-grammar.mjs'
        export const kept = keptGrammar(${(await texts()).map((text) => JSON.stringify(text)).join()})`,
      loader: 'js',
      resolveDir: import.meta.dirname,
    }))
  },
}

/** What `keptGrammar` takes. The first is `{ texts, rows, words }`: a row an entry, with the numbers of its texts. */
async function texts() {
  const { english, needsOf, keptGrammar, meantBy, usageOf } = await load('tests/tools/grammar-inside.mjs')
  const grammar = english()
  const texts = new Map()
  const text = (words) => {
    const all = [...words].join(' ')
    if (!texts.has(all)) texts.set(all, texts.size)
    return texts.get(all)
  }
  const entries = new Set([...grammar.deeds, ...grammar.tasks])
  for (const index of Object.values(grammar))
    for (const some of [...(index?.byWord?.values() ?? []), ...(index?.byClass?.values() ?? [])])
      for (const entry of some) entries.add(entry)
  const rows = []
  for (const { order, pattern } of entries)
    rows[order] = [
      text(pattern.firstWords),
      text(pattern.firstClasses),
      text(pattern.classes),
      ...needsOf(pattern.parts).map(text),
    ]
  const table = { texts: [...texts.keys()], rows, words: [...grammar.words].join(' ') }
  const json = JSON.stringify(table)
  const { data, common } = grammar.hearing
  const meant = meantBy(data, usageOf(data, common))
  const packed = [json, JSON.stringify(meant)]
  const kept = keptGrammar(...packed)
  const facts = ({ firstWords, firstClasses, classes, must }) => [firstWords, firstClasses, classes, must]
  const isSame =
    isDeepStrictEqual(kept.words(), grammar.words) &&
    isDeepStrictEqual(kept.meant(), meant) &&
    [...entries].every(({ order, pattern }) => isDeepStrictEqual(facts(kept.pattern(order)), facts(pattern)))
  if (!isSame) throw new Error('the patterns of the grammar are not kept as they are')
  return packed
}
