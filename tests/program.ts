import { join } from 'node:path'
import { build } from 'esbuild'

/**
 * Bundles a few lines of TypeScript that use the sources into a program of its own. Gives its path: under node_modules,
 * where it finds the drivers; whoever asked for it removes it.
 */
export async function programOf(name: string, contents: string): Promise<string> {
  const outfile = join('node_modules', `.${name}-${process.pid}.mjs`)
  await build({
    stdin: { contents, resolveDir: '.', loader: 'ts' },
    bundle: true,
    packages: 'external',
    platform: 'node',
    format: 'esm',
    outfile,
  })
  return outfile
}
