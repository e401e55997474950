// Bundles a TypeScript entry in memory and imports it: tools run against the sources as they are.
import { build } from 'esbuild'
export async function load(entry = 'src/index.ts') {
  const out = await build({
    entryPoints: [entry],
    bundle: true,
    write: false,
    format: 'esm',
    platform: 'node',
    logLevel: 'error',
    packages: 'external',
    absWorkingDir: new URL('../..', import.meta.url).pathname,
  })
  const { writeFileSync, mkdirSync } = await import('node:fs')
  const dir = new URL('../../node_modules/.cache/', import.meta.url)
  mkdirSync(dir, { recursive: true })
  const file = new URL(`combscribe-${entry.replace(/\W/g, '-')}-${process.pid}.mjs`, dir)
  writeFileSync(file, out.outputFiles[0].text)
  try {
    return await import(file.href)
  } finally {
    const { rmSync } = await import('node:fs')
    rmSync(file, { force: true })
  }
}
