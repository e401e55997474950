import { execFileSync } from 'node:child_process'
import { chmodSync, chownSync, existsSync, mkdtempSync, readdirSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { mayBeMissing } from '../command.ts'

const root = '/usr/lib/postgresql'
const bin = existsSync(root)
  ? readdirSync(root)
      .map((version) => join(root, version, 'bin'))
      .find((folder) => existsSync(join(folder, 'initdb')))
  : undefined

/** Whether Debian's PostgreSQL is there; where CI=true it has to be. */
export const hasServer = bin !== undefined || !mayBeMissing

const asRoot = process.getuid?.() === 0

/** Runs a program of PostgreSQL; it refuses to run as root. */
function run(program: string, ...args: string[]): void {
  if (!bin) throw new Error('PostgreSQL is missing; run node tests/tools/needs.mjs')
  const command = [join(bin, program), ...args]
  const [first, ...rest] = asRoot ? ['runuser', '-u', 'postgres', '--', ...command] : command
  execFileSync(first!, rest, { stdio: ['ignore', 'ignore', 'pipe'], cwd: tmpdir() })
}

/** A throw-away server that listens on a socket of its own alone. */
export interface Server {
  /** Makes a database and gives its address. */
  address(database: string): string
  /** Cuts all connections and is gone, as in a crash; `resume` brings it back with its data. */
  halt(): void
  resume(): void
  stop(): void
}

export function startServer(): Server {
  const folder = mkdtempSync(join(tmpdir(), 'combscribe-pg-'))
  chmodSync(folder, 0o755)
  if (asRoot) {
    const id = (flag: string) => Number(execFileSync('id', [flag, 'postgres'], { encoding: 'utf8' }))
    chownSync(folder, id('-u'), id('-g'))
  }
  const data = join(folder, 'data')
  run('initdb', '-D', data, '-U', 'keeper', '--auth=trust', '--no-sync')
  const settings = `-k ${folder} -c listen_addresses='' -F`
  const resume = () => run('pg_ctl', '-D', data, '-w', '-l', join(folder, 'log'), '-o', settings, 'start')
  const halt = () => run('pg_ctl', '-D', data, '-m', 'immediate', 'stop')
  resume()
  return {
    halt,
    resume,
    address(database) {
      run('createdb', '-h', folder, '-U', 'keeper', database)
      return `postgres://keeper@/${database}?host=${encodeURIComponent(folder)}`
    },
    stop() {
      halt()
      rmSync(folder, { recursive: true, force: true })
    },
  }
}
