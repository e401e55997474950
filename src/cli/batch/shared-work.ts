import { createHash } from 'node:crypto'
import { setTimeout as sleep } from 'node:timers/promises'
import type { Pool } from 'pg'
import PgBoss from 'pg-boss'
import { logbookFault, pastDeadlocks } from '../../logbook/faults.ts'
import { openPool } from '../../logbook/pool.ts'

/** A file that one of several programs is to read. */
export interface Job {
  readonly id: string
  readonly path: string
}

/** The list of files to read that several programs, on one machine or many, share by way of their PostgreSQL. */
export interface SharedWork {
  /** Puts files on the list; one whose bytes are on it already, or in somebody's hands, is left out. */
  offer(files: readonly { readonly path: string; readonly hash: string }[]): Promise<void>
  /** How many files are still to be read, those included that a program has in hand. */
  left(): Promise<number>
  /** Files for this program alone, until none is left with any program. Those of one that died come back to the list. */
  take(atOnce: number): AsyncGenerator<Job>
  /** The file was read, or cannot be. */
  done(job: Job): Promise<void>
  close(): Promise<void>
}

/**
 * Seconds after which a file that a program has taken is given to another. A program that is alive and slower than this
 * reads on; the file is then read twice and written once, for a note is known by its path.
 */
const patience = 8
/** Any number that nothing else in the database locks by. */
const tablesLock = 7205512
/** Milliseconds between two looks at what others still have in hand. */
const pause = 400

/** `folder` is the same path on all machines that share its notes. */
export async function openSharedWork(connectionString: string, folder: string): Promise<SharedWork> {
  const pool = openPool(connectionString, 2)
  const boss = new PgBoss({
    db: { executeSql: (text, values) => pool.query(text, values) },
    schema: 'combscribe_queue',
    supervise: false,
    schedule: false,
  })
  const close = async () => {
    await boss.stop({ graceful: false }).catch(() => {})
    await pool.end()
  }
  // Faults reach whoever asked.
  boss.on('error', () => {})
  const name = `notes-${createHash('sha256').update(folder).digest('hex').slice(0, 16)}`
  const guarded = async <T>(work: () => Promise<T>): Promise<T> => {
    try {
      return await pastDeadlocks(work)
    } catch (error) {
      throw logbookFault(error, connectionString.replace(/\/\/[^@/]*@/, '//'))
    }
  }
  try {
    await guarded(() =>
      alone(pool, async () => {
        await boss.start()
        await boss.createQueue(name, { name })
      }),
    )
  } catch (error) {
    await close()
    throw error
  }
  const left = () => guarded(() => boss.getQueueSize(name, { before: 'completed' }))
  return {
    left,
    offer: (files) =>
      guarded(() =>
        boss.insert(
          files.map(({ path, hash }) => ({
            name,
            data: { path },
            // The same for whoever offers it: a second one of a number is not taken.
            id: hash.slice(0, 32).replace(/^(.{8})(.{4})(.{4})(.{4})/, '$1-$2-$3-$4-'),
            expireInSeconds: patience,
            // However often a program dies over it.
            retryLimit: 1000,
          })),
        ),
      ),
    async *take(atOnce) {
      for (;;) {
        const jobs = await guarded(() => boss.fetch<{ path: string }>(name, { batchSize: atOnce }))
        for (const { id, data } of jobs) yield { id, path: data.path }
        if (jobs.length > 0) continue
        if ((await left()) === 0) return
        await sleep(pause)
        await guarded(() => boss.maintain())
      }
    },
    done: ({ id }) => guarded(() => boss.deleteJob(name, id)),
    close,
  }
}

/**
 * Makes the tables of the list while no other program does: each makes several, and two at a time come to wait for each
 * other. The lock goes with its connection, whatever becomes of the program.
 */
async function alone<T>(pool: Pool, work: () => Promise<T>): Promise<T> {
  const client = await pool.connect()
  try {
    await client.query('select pg_advisory_lock($1)', [tablesLock])
    return await work()
  } finally {
    client.release(true)
  }
}
