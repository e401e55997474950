import Sqlite from 'better-sqlite3'
import { Kysely, PostgresDialect, SqliteDialect } from 'kysely'
import { CombscribeError } from '../errors.ts'
import { logbookFault } from './faults.ts'
import { Logbook, type Replay } from './logbook.ts'
import { type Kind, migrate } from './migrations.ts'
import type { Tables } from './tables.ts'

export interface OpenOptions {
  /** How long a write waits for another program, in milliseconds. */
  readonly patience?: number
  /** How corrections are replayed on a record; without it they are kept and change nothing. */
  readonly replay?: Replay
}

/**
 * Opens a logbook, making it if it is not there: a file's path, or `postgres://user@host/database`. Throws `logbook`
 * where it cannot be opened, is no logbook, or was written by a newer program.
 */
export async function openLogbook(
  where: string,
  { patience = 5000, replay = (record) => record }: OpenOptions = {},
): Promise<Logbook> {
  const kind: Kind = /^postgres(ql)?:\/\//.test(where) ? 'postgres' : 'sqlite'
  const shown = kind === 'postgres' ? where.replace(/\/\/[^@/]*@/, '//') : where
  if (kind === 'sqlite' && /^\w+:\/\//.test(where)) {
    throw new CombscribeError('logbook', 'a logbook is a file or a postgres:// address', where, 'name one of these')
  }
  let db: Kysely<Tables> | undefined
  try {
    db = new Kysely<Tables>({ dialect: kind === 'postgres' ? await postgres(where) : sqlite(where, patience) })
    await migrate(db, kind, shown)
    return new Logbook(db, kind, shown, replay)
  } catch (error) {
    await db?.destroy().catch(() => {})
    throw logbookFault(error, shown)
  }
}

function sqlite(path: string, patience: number): SqliteDialect {
  // A missing folder is a TypeError of the driver, with no code.
  let database: Sqlite.Database
  try {
    database = new Sqlite(path, { timeout: patience })
  } catch (error) {
    throw error instanceof TypeError ? Object.assign(new Error(error.message), { code: 'SQLITE_CANTOPEN' }) : error
  }
  try {
    database.pragma('journal_mode = WAL')
    // With WAL a power cut may lose the last notes, which the next run reads again; it never damages the file.
    database.pragma('synchronous = NORMAL')
    database.pragma('foreign_keys = ON')
  } catch (error) {
    database.close()
    throw error
  }
  return new SqliteDialect({ database: preparedOnce(database) })
}

/** A statement that does nothing. */
const nothing = {
  reader: false,
  all: () => [],
  run: () => ({ changes: 0, lastInsertRowid: 0 }),
  iterate: () => [].values(),
}

/** Statements are prepared once: a note takes a dozen, always the same. */
function preparedOnce(database: Sqlite.Database) {
  const statements = new Map<string, Sqlite.Statement>()
  return {
    close: () => void database.close(),
    prepare(text: string) {
      // Where the disk is full SQLite has taken everything back itself; asked again it would hide why.
      if (text === 'rollback' && !database.inTransaction) return nothing
      let statement = statements.get(text)
      if (!statement) {
        if (statements.size >= 200) statements.clear()
        statement = database.prepare(text)
        statements.set(text, statement)
      }
      return statement
    },
  }
}

async function postgres(connectionString: string): Promise<PostgresDialect> {
  const { openPool } = await import('./pool.ts')
  return new PostgresDialect({ pool: openPool(connectionString, 8) })
}
