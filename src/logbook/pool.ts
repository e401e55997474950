import pg from 'pg'
import { CombscribeError } from '../errors.ts'

/** Up to `max` connections to a PostgreSQL address. */
export function openPool(connectionString: string, max: number): pg.Pool {
  let pool: pg.Pool
  try {
    pool = new pg.Pool({ connectionString, max, connectionTimeoutMillis: 10_000 })
  } catch {
    throw new CombscribeError(
      'logbook',
      'not a readable postgres:// address',
      '',
      'write postgres://user@host/database',
    )
  }
  // A server that is stopped reports on every connection too; the next query says so in a sentence.
  pool.on('error', () => {})
  pool.on('connect', (client) => client.on('error', () => {}))
  return pool
}
