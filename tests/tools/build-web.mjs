// Builds dist/web: the page as static files with relative addresses, to be served from any folder.
import { createHash } from 'node:crypto'
import { cpSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs'
import { resolve } from 'node:path'
import { brotliCompressSync, constants, gzipSync } from 'node:zlib'
import { build } from 'esbuild'
import { compactGrammar } from './compact-grammar.mjs'

const folder = 'dist/web'
/** What the page opens without, and the worker fetches afterwards: the plots, what opens transcripts of all formats, and what was learned of clauses and calls. */
const later = /^parts\/(draw-plot|open|learned)-/
/** Pictures for the home screen: the system fetches them when the page is installed. */
const forInstalling = /^icons\/.*\.png$/

/** Writes the page and gives esbuild's account of what went in. `shared`: options that all bundles have. */
export async function buildWeb(shared) {
  const forPage = {
    ...shared,
    outdir: folder,
    platform: 'browser',
    minify: true,
    charset: 'utf8',
    plugins: [compactGrammar, onlyIfUsed, fittedLater],
    define: { ...shared.define, 'process.env.NODE_ENV': '"production"' },
  }
  const page = await build({ ...forPage, entryPoints: { app: 'src/web/main.tsx' } })
  const style = await build({ ...forPage, entryPoints: { app: 'src/web/app.css' }, splitting: false })
  for (const name of ['index.html', 'manifest.webmanifest', 'icons']) {
    cpSync(`src/web/${name}`, `${folder}/${name}`, { recursive: true })
  }
  const files = builtFiles()
  const worker = await build({
    ...forPage,
    entryPoints: { 'service-worker': 'src/web/service-worker.ts' },
    // Browsers other than Chromium have no module workers of this kind.
    format: 'iife',
    splitting: false,
    define: {
      ...forPage.define,
      COMBSCRIBE_FILES: JSON.stringify(atOnce(files).map(entry)),
      COMBSCRIBE_LATER: JSON.stringify(files.filter((name) => later.test(name))),
    },
  })
  const all = [...files, 'service-worker.js']
  const compressed = new Map(all.map((name) => [name, compress(name)]))
  const first = atOnce(all)
  console.log(`${folder}: first load ${sizes(first, compressed)}`)
  console.log(`${folder}: with all that comes later ${sizes(all, compressed)}`)
  return [page, style, worker]
}

/** What only lays out the terminal's reports stays out of the page: its packages do nothing by being imported. */
const onlyIfUsed = {
  name: 'only-if-used',
  setup(build) {
    build.onResolve(
      { filter: /^(wrap-ansi|ansi-styles|string-width|picocolors)$/ },
      async ({ path, pluginData, ...from }) => {
        if (pluginData) return undefined
        const { importer, namespace, resolveDir, kind } = from
        const found = await build.resolve(path, { importer, namespace, resolveDir, kind, pluginData: 'asked' })
        return { ...found, sideEffects: false }
      },
    )
  },
}

/** What was learned of clauses and calls is fetched by the page itself. */
const fittedLater = {
  name: 'fitted-later',
  setup(build) {
    build.onResolve({ filter: /fitted[\\/]fitted\.ts$/ }, () => ({ path: resolve('src/fitted/later.ts') }))
  },
}

const atOnce = (files) => files.filter((name) => !later.test(name) && !forInstalling.test(name))

const builtFiles = () =>
  readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .map((name) => name.replaceAll('\\', '/'))
    .filter((name) => statSync(`${folder}/${name}`).isFile())
    .sort()

/** Parts carry the hash of their content in their names already. */
const entry = (url) => ({
  url,
  revision: url.startsWith('parts/')
    ? null
    : createHash('sha256')
        .update(readFileSync(`${folder}/${url}`))
        .digest('hex')
        .slice(0, 16),
})

/** Brotli of some bytes; blocks of 64 kB suit the page's files, in which code and lists of many kinds follow one another. */
export const brotli = (bytes) => brotliCompressSync(bytes, { params: { [constants.BROTLI_PARAM_LGBLOCK]: 16 } })

/** Lays a Brotli beside a file, as our server and others (nginx's brotli_static, Caddy's precompressed) send it; its size. */
function compress(name) {
  const bytes = readFileSync(`${folder}/${name}`)
  const small = brotli(bytes)
  if (small.length > bytes.length * 0.9) return bytes.length
  writeFileSync(`${folder}/${name}.br`, small)
  return small.length
}

function sizes(files, compressed) {
  const contents = files.map((name) => readFileSync(`${folder}/${name}`))
  const sum = (lengths) => `${(lengths.reduce((all, length) => all + length, 0) / 1000).toFixed(1)} kB`
  const plain = sum(contents.map((bytes) => bytes.length))
  const gzip = sum(contents.map((bytes) => gzipSync(bytes).length))
  const small = sum(files.map((name) => compressed.get(name)))
  return `${files.length} files, ${plain}: ${gzip} with gzip, ${small} with brotli`
}
