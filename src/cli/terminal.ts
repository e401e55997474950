import type { Style } from '../report/style.ts'

/** What a command may touch of the world outside; tests hand in their own. */
export interface Terminal {
  out(text: string): void
  err(text: string): void
  readInput(): Promise<Uint8Array>
  readonly style: Style
}

/** The process's own streams. A reader that went away (`| head`) ends the program quietly. */
export function processTerminal(): Terminal {
  for (const stream of [process.stdout, process.stderr]) {
    stream.on('error', (error: NodeJS.ErrnoException) => {
      if (error.code === 'EPIPE') process.exit(process.exitCode ?? 0)
      process.exit(1)
    })
  }
  return {
    out: (text) => void process.stdout.write(text),
    err: (text) => void process.stderr.write(text),
    readInput: async () => {
      const parts: Buffer[] = []
      for await (const part of process.stdin) parts.push(part)
      return Buffer.concat(parts)
    },
    style: {
      colour: wantsColour(process.env, process.stdout.isTTY === true),
      width: Math.min(Math.max(process.stdout.columns || 80, 40), 120),
    },
  }
}

/** NO_COLOR (no-color.org) beats FORCE_COLOR beats the kind of output. */
export function wantsColour(env: Record<string, string | undefined>, isTerminal: boolean): boolean {
  if (env.NO_COLOR) return false
  if (env.FORCE_COLOR) return env.FORCE_COLOR !== '0'
  return isTerminal && env.TERM !== 'dumb'
}
