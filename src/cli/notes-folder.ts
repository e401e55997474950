import { createHash } from 'node:crypto'
import { readdir, realpath } from 'node:fs/promises'
import { join } from 'node:path'
import { CombscribeError } from '../errors.ts'

/** What speech-to-text programs write. What is really in a file is told by its content. */
const endings = /\.(txt|md|srt|vtt|json|jsonl|ndjson|xml|ttml|dfxp|sbv|lrc|tsv|csv|ass|ssa)$/i
/** Settings and records that may lie beside the notes. */
const noNotes = /^(yard|package)\b.*\.json$|\.gold\.json$/i

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

/** A day in a file's name: 2026-09-06, 2026_09_06, 20260906. Undefined where there is none that exists. */
export function dayInName(name: string): string | undefined {
  const found = /(?<!\d)((?:19|20)\d\d)([-_. ]?)(\d\d)\2(\d\d)(?!\d)/.exec(name)
  if (!found) return undefined
  const day = `${found[1]}-${found[3]}-${found[4]}`
  const date = new Date(`${day}T00:00:00Z`)
  return !Number.isNaN(date.getTime()) && date.toISOString().startsWith(day) ? day : undefined
}

/** The local calendar day of a moment. */
export function localDay(moment: Date): string {
  const two = (n: number) => String(n).padStart(2, '0')
  return `${moment.getFullYear()}-${two(moment.getMonth() + 1)}-${two(moment.getDate())}`
}
