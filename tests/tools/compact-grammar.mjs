// Packs what the page knows of the language, for every byte goes over the air: the lines of all files as one table, column
// by column (like stands beside like), the lists of words and the weights of calls as their own packers do it.
import { readdirSync, readFileSync } from 'node:fs'
import { isDeepStrictEqual } from 'node:util'
import { packWeights } from './compact-weights.mjs'
import { packWordLists } from './compact-words.mjs'
import { isJson, unpackFiles, valueIn } from './unpack-grammar.mjs'

const folder = new URL('../../grammar/en/', import.meta.url)

/** An esbuild plugin. Fails the build where unpacking would not give back the very same data. */
export const compactGrammar = {
  name: 'compact-grammar',
  setup(build) {
    const resolveDir = import.meta.dirname
    const code = (contents) => ({ contents, loader: 'js', resolveDir })
    const files = new Map(
      readdirSync(folder)
        .map((name) => [name.replace('.json', ''), JSON.parse(readFileSync(new URL(name, folder), 'utf8'))])
        .filter(([, data]) => Array.isArray(data) && typeof data[0] !== 'string'),
    )
    build.onLoad({ filter: /[\\/]grammar[\\/]en[\\/]\w+\.json$/ }, ({ path }) => {
      const [, name] = /(\w+)\.json$/.exec(path)
      if (/^(common|usage|sounds)$/.test(name)) return code(`export { ${name} as default } from 'packed:words'`)
      if (files.has(name)) return code(`export { ${name} as default } from 'packed:lines'`)
      return undefined
    })
    build.onResolve({ filter: /^packed:/ }, ({ path }) => ({ path, namespace: 'packed' }))
    build.onLoad({ filter: /^packed:words$/, namespace: 'packed' }, () =>
      code(`import { unpackWordLists } from './unpack-words.mjs'
        export const { common, usage, sounds } = unpackWordLists(${JSON.stringify(packWordLists())})`),
    )
    build.onLoad({ filter: /^packed:lines$/, namespace: 'packed' }, () =>
      code(`import { unpackFiles } from './unpack-grammar.mjs'
        export const { ${[...files.keys()].join()} } = unpackFiles(${JSON.stringify(packFiles(files))})`),
    )
    build.onLoad({ filter: /[\\/]hives[\\/]weights\.json$/ }, ({ path }) =>
      code(`import { unpackWeights } from './unpack-weights.mjs'
        export default unpackWeights(${JSON.stringify(packWeights(path))})`),
    )
  },
}

/** The entries of all files as `[[file, entries, …], [key, …], [column, …]]`; a column is a text of one line an entry. */
function packFiles(files) {
  const entries = [...files.values()].flat()
  const keys = [...new Set(entries.flatMap(Object.keys))]
  const columns = keys.map((key) => entries.map((entry) => cell(entry[key])).join('\n'))
  const packed = [[...files].flatMap(([name, { length }]) => [name, length]), keys, columns]
  const back = unpackFiles(packed)
  for (const [name, data] of files)
    if (!isDeepStrictEqual(back[name], data)) throw new Error(`${name}.json does not come back as it was`)
  return packed
}

/** A value as text: as it is read most cheaply, or JSON where that would not come back. */
function cell(value) {
  if (value === undefined) return ''
  const list = Array.isArray(value) && value.every((one) => typeof one === 'string') ? value : [value]
  const text = list.join(';').replaceAll(' / ', '/') + (list === value && list.length === 1 ? ';' : '')
  const isText = text !== '' && !text.includes('\n') && !isJson.test(text)
  const isSame = isText && isDeepStrictEqual(valueIn(text), value)
  return isSame ? text : JSON.stringify(value)
}
