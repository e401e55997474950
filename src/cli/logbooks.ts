import { existsSync } from 'node:fs'
import { CombscribeError } from '../errors.ts'
import type { Logbook } from '../logbook/logbook.ts'
import { openLogbook } from '../logbook/open.ts'

/** `--logbook`, as every command takes it that uses one. */
export const logbookOption = { logbook: { type: 'string', default: 'combscribe.db' } } as const

/** A logbook to look things up in: a mistyped name must not make an empty one. */
export async function openExisting(where: string): Promise<Logbook> {
  if (!where.includes('://') && !existsSync(where)) {
    throw new CombscribeError('missing-file', 'no such logbook', where, 'make it with combscribe batch FOLDER')
  }
  return openLogbook(where)
}
