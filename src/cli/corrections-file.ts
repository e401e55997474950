import { existsSync } from 'node:fs'
import { open, readFile } from 'node:fs/promises'
import { applyCorrections } from '../corrections/apply.ts'
import { type Correction, correctionLine, parseCorrections } from '../corrections/correction.ts'
import type { Logbook } from '../logbook/logbook.ts'
import type { InspectionRecord } from '../record/schema.ts'
import { fileFault } from './files.ts'
import { correctionsOf, keepCorrections } from './logbooks.ts'

/** The corrections of a note that is in no logbook lie beside it, one a line. */
export const correctionsPath = (note: string): string => `${note}.corrections.jsonl`

/** Those that lie beside a note; none where there is no such file (or the note is standard input). */
export async function correctionsBeside(note: string): Promise<Correction[]> {
  if (note === '-') return []
  const path = correctionsPath(note)
  try {
    return parseCorrections(await readFile(path, 'utf8'), path)
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException
    if (code === undefined || code === 'bad-record') throw error
    if (code === 'ENOENT' || code === 'ENOTDIR') return []
    throw fileFault(error, path)
  }
}

/**
 * Adds corrections in one write at the end of the file, wherever that is by then: of two programs that correct at once
 * neither overwrites the other. On the disk before it returns.
 */
export async function appendCorrections(note: string, fresh: readonly Correction[]): Promise<void> {
  if (fresh.length === 0) return
  const path = correctionsPath(note)
  try {
    const file = await open(path, 'a+')
    try {
      const { size } = await file.stat()
      const last = Buffer.alloc(1)
      if (size > 0) await file.read(last, 0, 1, size - 1)
      // A line that a power cut left unfinished must not swallow the next.
      const gap = size > 0 && last.toString() !== '\n' ? '\n' : ''
      await file.appendFile(gap + fresh.map(correctionLine).join(''))
      await file.sync()
    } finally {
      await file.close()
    }
  } catch (error) {
    throw fileFault(error, path)
  }
}

/** Takes over into a logbook what was put right in a note by itself, each correction once. Gives how many were new. */
export async function bringCorrections(book: Logbook, note: string): Promise<number> {
  const id = existsSync(correctionsPath(note)) ? (await book.at(note))?.id : undefined
  if (id === undefined) return 0
  const there = new Set((await correctionsOf(book, id)).map((one) => one.id))
  const fresh = (await correctionsBeside(note)).filter((one) => !there.has(one.id))
  if (fresh.length > 0) await keepCorrections(book, id, fresh)
  return fresh.length
}

/** What is said on standard error where corrections beside a note find their words no more. */
export function corrected(
  record: InspectionRecord,
  corrections: readonly Correction[],
  text: string | undefined,
  say: (sentence: string) => void,
): InspectionRecord {
  const done = applyCorrections(record, corrections, text)
  const lost = done.orphaned.length
  if (lost > 0)
    say(
      `${lost} of its corrections ${lost === 1 ? 'finds its' : 'find their'} words no more; combscribe fix shows ${lost === 1 ? 'it' : 'them'}.`,
    )
  return done.record
}
