import { readFile } from 'node:fs/promises'
import { basename, extname } from 'node:path'
import { CombscribeError } from '../errors.ts'
import { parseYard, type Yard } from '../yard.ts'
import type { Terminal } from './terminal.ts'

const reasons: Record<string, ConstructorParameters<typeof CombscribeError>> = {
  ENOENT: ['missing-file', 'no such file', '', 'check the name and the folder'],
  ENOTDIR: ['missing-file', 'no such file', '', 'check the name and the folder'],
  EISDIR: ['is-folder', 'a folder, not a note', '', 'name the files in it'],
  EACCES: ['unreadable', 'this user may not read it', '', 'change its permissions'],
  EPERM: ['unreadable', 'this user may not read it', '', 'change its permissions'],
  ENAMETOOLONG: ['missing-file', 'a file name longer than the system takes', '', 'check the name'],
  ERR_FS_FILE_TOO_LARGE: ['unreadable', 'larger than 2 GB', '', 'cut it into visits'],
}

/** A fault of the file system about one file, as a sentence. */
export function fileFault(error: unknown, path: string): CombscribeError {
  const { code = '', message } = error as NodeJS.ErrnoException
  const [kind, what, , next] = reasons[code] ?? ['unreadable', `cannot be read (${code || message})`, '', 'try again']
  return new CombscribeError(kind, what, path, next)
}

/** The bytes of a file, or of standard input for `-`. */
export async function readBytes(path: string, terminal: Terminal): Promise<Uint8Array> {
  if (path === '-') return terminal.readInput()
  try {
    return await readFile(path)
  } catch (error) {
    throw fileFault(error, path)
  }
}

/** A note is called after its file, without the ending. */
export const noteName = (path: string): string => (path === '-' ? 'stdin' : basename(path, extname(path)))

/** What stands in messages for `-`. */
export const shownPath = (path: string): string => (path === '-' ? 'standard input' : path)

/** The yard file that `--yard` names, if it names one. */
export async function readYard(path: string | undefined, terminal: Terminal): Promise<Yard | undefined> {
  if (path === undefined) return undefined
  return parseYard(new TextDecoder().decode(await readBytes(path, terminal)), shownPath(path))
}
