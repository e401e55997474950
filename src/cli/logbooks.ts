import { existsSync } from 'node:fs'
import { applyCorrections } from '../corrections/apply.ts'
import { type Correction, knownCorrections } from '../corrections/correction.ts'
import { CombscribeError } from '../errors.ts'
import type { Logbook, Replay } from '../logbook/logbook.ts'

/** `--logbook`, as every command takes it that uses one. */
export const logbookOption = { logbook: { type: 'string', default: 'combscribe.db' } } as const

/** A logbook to look things up in: a mistyped name must not make an empty one. */
export async function openExisting(where: string): Promise<Logbook> {
  if (!where.includes('://') && !existsSync(where)) {
    throw new CombscribeError('missing-file', 'no such logbook', where, 'make it with combscribe batch FOLDER')
  }
  return openBook(where)
}

/**
 * The one way in which a command opens a logbook: with the corrections replayed on what is read. The databases' drivers are
 * loaded here and not before: a note is read without them.
 */
export async function openBook(where: string): Promise<Logbook> {
  const { openLogbook } = await import('../logbook/open.ts')
  return openLogbook(where, { replay })
}

/** The record as people left it. Corrections that a newer program made are kept and left alone. */
export const replay: Replay = (record, bodies, text) =>
  applyCorrections(record, knownCorrections(bodies).corrections, text).record

/** The corrections of a note in their order, as far as this program knows them. */
export async function correctionsOf(book: Logbook, note: number): Promise<Correction[]> {
  return knownCorrections((await book.corrections(note)).map(({ body }) => body)).corrections
}

/** Adds corrections to a note, all or none. */
export async function keepCorrections(book: Logbook, note: number, fresh: readonly Correction[]): Promise<void> {
  await book.correctAll(
    note,
    fresh.map((one) => ({ who: one.who, at: one.at, body: one })),
  )
}
