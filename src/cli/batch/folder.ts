import { createHash } from 'node:crypto'
import { readdir, realpath, stat } from 'node:fs/promises'
import { join } from 'node:path'
import { CombscribeError } from '../../errors.ts'
import { fileFault } from '../files.ts'

/** What speech-to-text programs write. What is really in a file is told by its content. */
const endings = /\.(txt|md|srt|vtt|json|jsonl|ndjson|xml|ttml|dfxp|sbv|lrc|tsv|csv|ass|ssa)$/i
/** Settings, records and corrections that may lie beside the notes. */
const noNotes = /^(yard|package)\b.*\.json$|\.gold\.json$|\.corrections\.jsonl$/i

/** Whether a file is a note by its name. */
export const isNote = (name: string): boolean => !name.startsWith('.') && endings.test(name) && !noNotes.test(name)

/** The whole path of a folder of notes. Throws one sentence where it is none. */
export async function openFolder(folder: string): Promise<string> {
  try {
    const root = await realpath(folder)
    if (!(await stat(root)).isDirectory())
      throw new CombscribeError('bad-usage', 'a file, not a folder', folder, 'use combscribe read')
    await readdir(root)
    return root
  } catch (error) {
    if (error instanceof CombscribeError) throw error
    const { code } = error as NodeJS.ErrnoException
    if (code === 'EACCES')
      throw new CombscribeError('unreadable', 'this user may not read it', folder, 'change its permissions')
    throw new CombscribeError('missing-file', 'no such folder', folder, 'check its name')
  }
}

/**
 * Whole paths of every note in an opened folder and the folders in it, in order, one folder's names in memory at a time.
 * Hidden files are left alone; links are followed, but not in circles. What cannot be looked into goes to `fault`.
 */
export async function* notesIn(
  folder: string,
  fault: (error: CombscribeError) => void = () => {},
  above: readonly string[] = [],
): AsyncGenerator<string> {
  let entries: Awaited<ReturnType<typeof namesIn>>
  try {
    entries = await namesIn(folder)
  } catch (error) {
    return fault(fileFault(error, folder))
  }
  for (const entry of entries) {
    const path = join(folder, entry.name)
    try {
      const target = entry.isSymbolicLink() ? await stat(path) : entry
      if (target.isDirectory()) {
        // A folder is known by its real path: a link back to one that is being walked is a circle.
        const real = entry.isSymbolicLink() ? await realpath(path) : path
        const within = [...above, folder]
        if (!within.some((one) => one === real)) yield* notesIn(real, fault, within)
      } else if (target.isFile() && isNote(entry.name)) yield path
    } catch (error) {
      if (isNote(entry.name)) fault(fileFault(error, path))
    }
  }
}

async function namesIn(folder: string) {
  const entries = await readdir(folder, { withFileTypes: true })
  return entries.filter(({ name }) => !name.startsWith('.')).sort((a, b) => (a.name < b.name ? -1 : 1))
}

export const hashOf = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex')
