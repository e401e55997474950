import { type ChildProcess, spawn } from 'node:child_process'
import { stripVTControlCharacters } from 'node:util'
import { has } from './command.ts'

/** A command in a pseudo-terminal of 100 columns: what it prints, and keys typed once something stands on the screen. */
export interface Pty {
  /** Waits until `pattern` stands behind what was waited for before. */
  shows(pattern: RegExp): Promise<string>
  type(keys: string): void
  /** Everything printed so far, without control sequences. */
  screen(): string
  /** The exit code. */
  ended(): Promise<number | null>
}

/** `script` of util-linux gives the terminal; every Debian has it. */
export const hasPty = has('script')

export function startPty(words: readonly string[], env: Record<string, string> = {}): Pty {
  const line = ['stty cols 100 rows 40;', process.execPath, ...words].map((word, i) => (i === 0 ? word : quote(word)))
  const child: ChildProcess = spawn('script', ['-qefc', line.join(' '), '/dev/null'], {
    env: { PATH: process.env.PATH, TERM: 'xterm', NO_COLOR: '1', SHELL: '/bin/sh', ...env },
    stdio: ['pipe', 'pipe', 'inherit'],
  })
  let all = ''
  let seen = 0
  let wake = () => {}
  child.stdout!.on('data', (part: Buffer) => {
    all += stripVTControlCharacters(part.toString('utf8')).replaceAll('\r', '')
    wake()
  })
  const code = new Promise<number | null>((resolve) => child.on('exit', resolve))
  void code.then(() => wake())
  return {
    async shows(pattern) {
      const until = Date.now() + 40_000
      for (;;) {
        const found = pattern.exec(all.slice(seen))
        if (found) {
          seen += found.index + found[0].length
          // The keys are listened to a moment after the screen is drawn.
          await new Promise((resolve) => setTimeout(resolve, 150))
          return found[0]
        }
        if (Date.now() > until || child.exitCode !== null)
          throw new Error(`never showed ${pattern}; it shows:\n${all.slice(seen)}`)
        await new Promise<void>((resolve) => {
          wake = resolve
          setTimeout(resolve, 200)
        })
      }
    },
    type: (keys) => void child.stdin!.write(keys),
    screen: () => all,
    ended: () => code,
  }
}

const quote = (word: string): string => `'${word.replaceAll("'", "'\\''")}'`
