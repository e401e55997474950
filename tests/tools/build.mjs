// Builds dist/: the library and the rules for any JavaScript engine, the command for Node, the page, and the type
// declarations.
// usage: node tests/tools/build.mjs
import { execFileSync } from 'node:child_process'
import { createHash } from 'node:crypto'
import { existsSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { build } from 'esbuild'
import { buildWeb } from './build-web.mjs'
import { keepGrammar } from './keep-grammar.mjs'
import { keepLearned, writeLearned } from './keep-learned.mjs'

const root = fileURLToPath(new URL('../..', import.meta.url))
process.chdir(root)
const { version } = JSON.parse(readFileSync('package.json', 'utf8'))

/** Eight digits that tell one state of some folders from another. */
function hashOf(folders) {
  const hash = createHash('sha256')
  for (const folder of folders)
    for (const file of readdirSync(folder, { recursive: true, withFileTypes: true })
      .filter((entry) => entry.isFile())
      .map((entry) => `${entry.parentPath}/${entry.name}`)
      .sort())
      hash.update(`${file}\n`).update(readFileSync(file))
  return hash.digest('hex').slice(0, 8)
}

rmSync('dist', { recursive: true, force: true })

const shared = {
  bundle: true,
  splitting: true,
  format: 'esm',
  target: 'es2022',
  outdir: 'dist',
  chunkNames: 'parts/[name]-[hash]',
  // jsonc-parser's `main` is a loader that no bundler can follow; its `module` is plain ES modules.
  mainFields: ['module', 'main'],
  define: {
    COMBSCRIBE_VERSION: JSON.stringify(version),
    COMBSCRIBE_READER: JSON.stringify(
      hashOf([
        'grammar',
        ...['transcript', 'grammar', 'language', 'reading', 'hives', 'clauses', 'fitted', 'record'].map(
          (stage) => `src/${stage}`,
        ),
      ]),
    ),
    COMBSCRIBE_RULES: JSON.stringify(hashOf(['src/rules'])),
  },
  legalComments: 'none',
  metafile: true,
  logLevel: 'warning',
}

/** Packages that cost more to load than most commands have use for (tables of Unicode): loaded when first called. */
const loadedWhenCalled = {
  name: 'loaded-when-called',
  setup(build) {
    build.onResolve({ filter: /^(string-width|wrap-ansi)$/ }, ({ path, importer }) =>
      importer.includes('node_modules') || importer === path ? undefined : { path, namespace: 'when-called' },
    )
    build.onLoad({ filter: /./, namespace: 'when-called' }, ({ path }) => ({
      contents: `export default (...all) => require('${path}').default(...all)`,
      resolveDir: root,
    }))
  },
}

// `neutral` has no Node modules: an import of one in the library fails here and not in somebody's browser.
const library = { index: 'src/index.ts', rules: 'src/rules/index.ts' }
const forAll = await build({ ...shared, entryPoints: library, platform: 'neutral' })

// One part a command, loaded when the command is given: `--help` must not wait for the reader.
const forNode = await build({
  ...shared,
  entryPoints: { cli: 'src/cli/main.ts', thread: 'src/cli/batch/thread.ts' },
  platform: 'node',
  target: 'node20',
  // A driver with native code, one that PostgreSQL's looks for and does without, and a pool that starts a file of its own.
  external: ['better-sqlite3', 'pg-native', 'piscina'],
  // Packages written for CommonJS call require for what Node has built in.
  banner: {
    js: "import { createRequire as requireFrom } from 'node:module'; const require = requireFrom(import.meta.url);",
  },
  minifySyntax: true,
  minifyWhitespace: true,
  plugins: [keepGrammar, keepLearned, loadedWhenCalled],
})
await writeLearned('dist/learned.bin')

const forPage = await buildWeb(shared)

writeLicences('dist', [forAll, forNode])
writeLicences('dist/web', forPage)

/** The licences of everything that was bundled: they ask to be passed on. */
function writeLicences(to, builds) {
  const inputs = builds.flatMap(({ metafile }) => Object.keys(metafile.inputs))
  const folders = new Set(inputs.flatMap((path) => /^(?:.*\/)?node_modules\/(?:@[^/]+\/)?[^/]+/.exec(path)?.[0] ?? []))
  const texts = [...folders].sort().map((folder) => {
    const { name, version, license } = JSON.parse(readFileSync(`${folder}/package.json`, 'utf8'))
    const file = readdirSync(folder).find((entry) => /^licen[cs]e/i.test(entry))
    return `${name} ${version} (${license})\n\n${file ? readFileSync(`${folder}/${file}`, 'utf8').trim() : ''}\n`
  })
  writeFileSync(`${to}/LICENCES.txt`, texts.join(`\n${'-'.repeat(80)}\n\n`))
}

const compiler = 'node_modules/typescript/bin/tsc'
if (!existsSync(compiler)) throw new Error(`${compiler}: the TypeScript compiler is missing; run npm ci.`)
execFileSync(process.execPath, [compiler, '-p', 'tests/tools/declarations.json'], { stdio: 'inherit' })
