import { createHash } from 'node:crypto'
import { readdir, realpath } from 'node:fs/promises'
import { join } from 'node:path'
import { CombscribeError } from '../errors.ts'

/** What speech-to-text programs write. What is really in a file is told by its content. */
const endings = /\.(txt|md|srt|vtt|json|jsonl|ndjson|xml|ttml|dfxp|sbv|lrc|tsv|csv|ass|ssa)$/i
/** Settings, records and corrections that may lie beside the notes. */
const noNotes = /^(yard|package)\b.*\.json$|\.gold\.json$|\.corrections\.jsonl$/i

/** Whole paths of every note in a folder and the folders in it, in order. Hidden files are left alone. */
export async function notesIn(folder: string): Promise<string[]> {
  let root: string
  try {
    root = await realpath(folder)
    const entries = await readdir(root, { withFileTypes: true, recursive: true })
    return entries
      .filter((entry) => entry.isFile() && endings.test(entry.name) && !noNotes.test(entry.name))
      .map((entry) => join(entry.parentPath, entry.name))
      .filter(
        (path) =>
          !path
            .slice(root.length)
            .split('/')
            .some((part) => part.startsWith('.')),
      )
      .sort()
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException
    if (code === 'ENOTDIR')
      throw new CombscribeError('bad-usage', 'a file, not a folder', folder, 'use combscribe read')
    if (code === 'EACCES')
      throw new CombscribeError('unreadable', 'this user may not read it', folder, 'change its permissions')
    throw new CombscribeError('missing-file', 'no such folder', folder, 'check its name')
  }
}

export const hashOf = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex')
