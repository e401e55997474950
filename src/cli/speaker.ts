import { spawn } from 'node:child_process'
import type { Terminal } from './terminal.ts'

export interface Speaker {
  /** Speaks when what is being spoken is over. What waited is left out for it, unless it `must` be heard. */
  say(text: string, must?: boolean): void
  /** When all is spoken. */
  done(): Promise<void>
}

/**
 * Speaks answers with any program that takes the text as its last argument. A keeper talks faster than a voice answers:
 * of answers that wait, only the last is spoken, and alarms.
 */
export function speaker(command: string | undefined, terminal: Terminal): Speaker {
  if (command === undefined) return { say: () => {}, done: async () => {} }
  const [program = '', ...rest] = command.split(/\s+/).filter(Boolean)
  let waiting: { readonly text: string; readonly must: boolean }[] = []
  let speaking: Promise<void> | null = null
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
  async function speakAll(): Promise<void> {
    for (let next = waiting.shift(); next && !failed; next = waiting.shift()) await speak(next.text)
    speaking = null
  }
  return {
    say(text, must = false) {
      if (failed) return
      waiting = [...waiting.filter((one) => one.must), { text, must }]
      speaking ??= speakAll()
    },
    async done() {
      while (speaking) await speaking
    },
  }
}
