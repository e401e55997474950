import { CombscribeError } from '../errors.ts'
import { readBytes, shownPath } from './files.ts'
import { usage } from './options.ts'
import type { Terminal } from './terminal.ts'

/**
 * Reads every file with `use`. One that cannot be read is named on standard error and the others still are; gives
 * what came out, in the order given, and the exit code.
 */
export async function eachInput<T>(
  command: string,
  paths: readonly string[],
  terminal: Terminal,
  use: (bytes: Uint8Array, path: string) => T,
  read: (path: string) => Promise<Uint8Array> = (path) => readBytes(path, terminal),
): Promise<{ done: T[]; code: number }> {
  if (paths.length === 0) throw usage(command, 'no file was named ("-" is standard input)')
  if (paths.filter((path) => path === '-').length > 1) throw usage(command, 'standard input ("-") is named twice')
  const done: T[] = []
  let code = 0
  for (const path of paths) {
    try {
      done.push(use(await read(path), path))
    } catch (error) {
      if (!(error instanceof CombscribeError)) throw new Error(`reading ${shownPath(path)}: ${said(error)}`)
      if (!ofInput(error)) throw error
      terminal.err(`combscribe: ${error.message}\n`)
      code = 1
    }
  }
  return { done, code }
}

/** A faulty yard file, grammar or logbook is no fault of the input at hand: the next one would fail by it too. */
export const ofInput = ({ code }: CombscribeError) => !['bad-yard', 'bad-grammar', 'logbook'].includes(code)

const said = (error: unknown) => (error instanceof Error ? error.message : String(error))
