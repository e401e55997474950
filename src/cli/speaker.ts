import { spawn } from 'node:child_process'
import type { Terminal } from './terminal.ts'

/** Speaks answers one after the other with any program that takes the text as its last argument. */
export function speaker(
  command: string | undefined,
  terminal: Terminal,
): { say(text: string): void; done(): Promise<void> } {
  if (command === undefined) return { say: () => {}, done: async () => {} }
  const [program = '', ...rest] = command.split(/\s+/).filter(Boolean)
  let last: Promise<void> = Promise.resolve()
  let failed = false
  const speak = (text: string) =>
    new Promise<void>((resolve) => {
      const fail = () => {
        if (!failed) terminal.err(`combscribe: listen: "${program}" could not speak; answers are printed only.\n`)
        failed = true
        resolve()
      }
      spawn(program, [...rest, text], { stdio: 'ignore' })
        .on('error', fail)
        .on('exit', (code) => (code === 0 ? resolve() : fail()))
    })
  return {
    say: (text) => {
      last = last.then(() => (failed ? undefined : speak(text)))
    },
    done: () => last,
  }
}
