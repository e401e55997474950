import { CombscribeError } from '../errors.ts'

/** Codes of better-sqlite3, of PostgreSQL (appendix A of its manual) and of the system, as a person would say them. */
const sentences: Record<string, [what: string, next: string]> = {
  SQLITE_BUSY: ['the logbook is locked by another program', 'close that program or try again later'],
  SQLITE_READONLY: ['the logbook may not be written', 'change the permissions of the file and its folder'],
  SQLITE_CANTOPEN: ['the logbook cannot be opened or made here', 'check the folder and its permissions'],
  SQLITE_NOTADB: ['this file is no logbook', 'name another file'],
  SQLITE_CORRUPT: ['the logbook file is damaged', 'put back a copy of it, or read the notes into a new one'],
  SQLITE_FULL: ['the disk is full; what was written before is kept', 'make room and run it again'],
  SQLITE_IOERR: ['the disk failed or is full; what was written before is kept', 'check the disk and run it again'],
  ECONNREFUSED: ['no database server answers there', 'check the address and that the server runs'],
  ENOENT: ['no database server answers there', 'check the address and that the server runs'],
  ENOTFOUND: ['there is no such database server', 'check the address'],
  EAI_AGAIN: ['there is no such database server', 'check the address and the network'],
  ETIMEDOUT: ['the database server does not answer', 'check the address and the network'],
  ECONNRESET: ['the connection to the database was cut; what was written before is kept', 'run it again'],
  EPIPE: ['the connection to the database was cut; what was written before is kept', 'run it again'],
  '57P03': ['the database server is starting or stopping', 'run it again in a moment'],
  '28P01': ['the database refuses this user or password', 'check them'],
  '28000': ['the database refuses this user', 'check the user in the address'],
  '3D000': ['the server has no database of that name', 'make it with createdb, or check the address'],
  '42501': ['this database user may not do that', 'ask for the right to make and write tables'],
  '53100': ["the database server's disk is full; what was written before is kept", 'make room and run it again'],
  '57P01': ['the database server was shut down; what was written before is kept', 'run it again'],
  '25006': ['the database is read-only', 'name one that may be written'],
}

/** A fault of the database as one sentence; anything that is no such fault is given back as it is. */
export function logbookFault(error: unknown, where: string): unknown {
  if (error instanceof CombscribeError) return error
  const inner = error instanceof AggregateError ? error.errors[0] : error
  const { code = '', message = '' } = (inner ?? {}) as { code?: string; message?: string }
  const known =
    sentences[code] ??
    Object.entries(sentences).find(([start]) => code.startsWith(`${start}_`))?.[1] ??
    // pg's own, which have no code
    (/timeout expired/.test(message)
      ? sentences.ETIMEDOUT
      : /Connection terminated|not queryable/.test(message)
        ? sentences.ECONNRESET
        : undefined)
  return known ? new CombscribeError('logbook', known[0], where, known[1]) : error
}

/**
 * Does work again that PostgreSQL has ended because two programs waited for each other: it ends one of them and takes
 * back what that one did, so the same once more goes through.
 */
export async function pastDeadlocks<T>(work: () => Promise<T>): Promise<T> {
  for (let attempt = 1; ; attempt++) {
    try {
      return await work()
    } catch (error) {
      if (attempt >= 8 || (error as { code?: string }).code !== '40P01') throw error
    }
  }
}
