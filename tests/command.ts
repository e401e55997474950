import { spawnSync } from 'node:child_process'
import { existsSync } from 'node:fs'

/** The command as it is shipped: tests run it as a process of its own. */
export const cli = 'dist/cli.js'
if (!existsSync(cli)) throw new Error(`${cli} is missing; run npm run build before the tests.`)

/** Runs one command line to its end. */
export function combscribe(
  args: readonly string[],
  options: { input?: string | Uint8Array; env?: Record<string, string> } = {},
): { code: number | null; out: string; err: string } {
  const { status, stdout, stderr } = spawnSync(process.execPath, [cli, ...args], {
    env: { PATH: process.env.PATH, NO_COLOR: '1', ...options.env },
    input: options.input ?? '',
    encoding: 'utf8',
    maxBuffer: 1 << 28,
  })
  return { code: status, out: stdout, err: stderr }
}

/** Whether a program is on the path. */
export const has = (program: string): boolean =>
  (process.env.PATH ?? '').split(':').some((folder) => existsSync(`${folder}/${program}`))

/** Tests that need a program of the system may be left out where it is missing, but not where CI=true. */
export const mayBeMissing = process.env.CI !== 'true'
