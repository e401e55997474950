import { type Kysely, sql } from 'kysely'
import { CombscribeError } from '../errors.ts'
import type { Tables } from './tables.ts'

export type Kind = 'sqlite' | 'postgres'

/** One statement list a schema version; what was released is never edited, only added to. */
export const migrations: ((kind: Kind) => string[])[] = [
  (kind) => {
    const lite = kind === 'sqlite'
    const id = lite ? 'integer primary key autoincrement' : 'integer generated always as identity primary key'
    const mine = 'note integer not null references notes(id) on delete cascade'
    return [
      `create table notes (id ${id}, path text not null unique, name text not null, hash text not null,
        source ${lite ? 'blob' : 'bytea'} not null, text text not null, date text not null, date_from text not null,
        reader text not null, record text not null, judged integer not null)`,
      'create index notes_date on notes(date)',
      'create index notes_hash on notes(hash)',
      'create index notes_judged on notes(judged)',
      `create table readings (${mine}, seq integer not null, hive text, box text, frame integer, side text,
        field text not null, value text not null, number double precision, unit text,
        confidence double precision not null, flag text not null, quote text not null, entry integer, detail text,
        primary key (note, seq))`,
      'create index readings_hive on readings(hive, field)',
      `create table findings (${mine}, seq integer not null, rule text not null, hive text, kind text not null,
        verdict text not null, what text not null, body text not null, primary key (note, seq))`,
      // Corrections are a person's work: a note that has some cannot be deleted by accident.
      `create table corrections (note integer not null references notes(id), seq integer not null, who text not null,
        at text not null, body text not null, primary key (note, seq))`,
      lite
        ? 'create virtual table search using fts5(text, tokenize = "porter unicode61")'
        : "create index notes_search on notes using gin (to_tsvector('english', text))",
    ]
  },
  // The record as it was read: corrections are replayed on it, never on one that is corrected already.
  () => ['alter table notes add column as_read text'],
  // Records and findings packed (packed.ts), what earlier visits are judged by, who visited which hive when.
  (kind) => [
    ...(kind === 'sqlite'
      ? [] // any column of SQLite's takes bytes
      : ['record', 'as_read'].map(
          (column) => `alter table notes alter column ${column} type bytea using convert_to(${column}, 'UTF8')`,
        )),
    `alter table notes add column findings ${kind === 'sqlite' ? 'blob' : 'bytea'}`,
    'alter table notes add column brief text',
    'alter table notes add column judged_by text',
    'drop index notes_judged',
    'create index notes_waiting on notes(judged, date, path)',
    `create table visits (hive text not null, date text not null,
      note integer not null references notes(id) on delete cascade, readings integer not null,
      primary key (hive, date, note))`,
    'create index visits_note on visits(note)',
    `insert into visits (hive, date, note, readings) select hive, date, note, count(*) from readings
      join notes on notes.id = readings.note where hive is not null group by hive, date, note`,
  ],
]
export const schemaVersion = migrations.length

/** Brings the schema up to date in one transaction. Refuses one that a newer program wrote. */
export async function migrate(db: Kysely<Tables>, kind: Kind, where: string): Promise<void> {
  await db.transaction().execute(async (tx) => {
    // Two programs that open a new logbook at once: the second waits here.
    if (kind === 'postgres') await sql`select pg_advisory_xact_lock(7205511)`.execute(tx)
    await sql`create table if not exists schema_version (version integer not null)`.execute(tx)
    const row = await tx.selectFrom('schema_version').select('version').executeTakeFirst()
    const version = row?.version ?? 0
    if (version > schemaVersion) {
      const what = `the logbook has schema ${version}, made by a newer combscribe than this one, which knows ${schemaVersion}`
      throw new CombscribeError('logbook', what, where, 'install the newer program')
    }
    if (version === schemaVersion) return
    for (const step of migrations.slice(version)) for (const text of step(kind)) await sql.raw(text).execute(tx)
    if (row) await tx.updateTable('schema_version').set({ version: schemaVersion }).execute()
    else await tx.insertInto('schema_version').values({ version: schemaVersion }).execute()
  })
}
