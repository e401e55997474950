// Builds dist/: the library and the rules for any JavaScript engine, the command for Node, and the type declarations.
// usage: node tests/tools/build.mjs
import { execFileSync } from 'node:child_process'
import { existsSync, readFileSync, rmSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { build } from 'esbuild'

const root = fileURLToPath(new URL('../..', import.meta.url))
process.chdir(root)
const { version } = JSON.parse(readFileSync('package.json', 'utf8'))

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
  define: { COMBSCRIBE_VERSION: JSON.stringify(version) },
  legalComments: 'external',
  logLevel: 'warning',
}

// `neutral` has no Node modules: an import of one in the library fails here and not in somebody's browser.
const library = { index: 'src/index.ts', rules: 'src/rules/index.ts' }
await build({ ...shared, entryPoints: library, platform: 'neutral' })

// One part a command, loaded when the command is given: `--help` must not wait for the reader.
await build({
  ...shared,
  entryPoints: { cli: 'src/cli/main.ts' },
  platform: 'node',
  target: 'node20',
  minifySyntax: true,
  minifyWhitespace: true,
})

const compiler = 'node_modules/typescript/bin/tsc'
if (!existsSync(compiler)) throw new Error(`${compiler}: the TypeScript compiler is missing; run npm ci.`)
execFileSync(process.execPath, [compiler, '-p', 'tests/tools/declarations.json'], { stdio: 'inherit' })
