import { type ChildProcess, spawn } from 'node:child_process'
import { once } from 'node:events'
import { cli } from '../command.ts'

/** The real command, serving at a free port. */
export interface Serving {
  readonly port: number
  /** The address as it is printed, without the slash. */
  readonly origin: string
  readonly process: ChildProcess
  /** All it printed so far, both streams. */
  said(): string
  /** Ctrl-C; gives the exit code. */
  stop(): Promise<number | null>
}

/** Starts `combscribe serve` with these arguments and waits until it says where it is. */
export async function serving(
  args: readonly string[] = [],
  { cwd, env = {} }: { cwd?: string; env?: Record<string, string> } = {},
): Promise<Serving> {
  const program = cwd === undefined ? cli : `${process.cwd()}/${cli}`
  const run = spawn(process.execPath, [program, 'serve', '--port', '0', ...args], {
    env: { PATH: process.env.PATH, NO_COLOR: '1', HOME: process.env.HOME, ...env },
    stdio: ['ignore', 'pipe', 'pipe'],
    ...(cwd === undefined ? {} : { cwd }),
  })
  let all = ''
  const port = await new Promise<number>((resolve, reject) => {
    const hear = (part: Buffer): void => {
      all += part
      const found = /http:\/\/localhost:(\d+)\//.exec(all)
      if (found) resolve(Number(found[1]))
    }
    run.stdout.on('data', hear)
    run.stderr.on('data', hear)
    run.on('close', (code) => reject(new Error(`serve ended with ${code}: ${all}`)))
  })
  return {
    port,
    origin: `http://localhost:${port}`,
    process: run,
    said: () => all,
    async stop() {
      if (run.exitCode !== null) return run.exitCode
      run.kill('SIGINT')
      const [code] = await once(run, 'close')
      return code
    },
  }
}
