import { type Kysely, sql, type Transaction } from 'kysely'
import { type FlatReading, flatten, type InspectionRecord, numberOf } from '../record/schema.ts'
import type { Finding } from '../rules/finding.ts'
import { logbookFault } from './faults.ts'
import type { Kind } from './migrations.ts'
import type { DateSource, Tables } from './tables.ts'

/** A note as it goes into the logbook. */
export interface NewNote {
  readonly path: string
  readonly name: string
  readonly hash: string
  readonly source: Uint8Array
  readonly text: string
  readonly date: string
  readonly dateFrom: DateSource
  readonly reader: string
  readonly record: InspectionRecord
}

/** A note as it stands in the logbook, without its source. */
export interface Note {
  readonly id: number
  readonly path: string
  readonly name: string
  readonly hash: string
  readonly date: string
  readonly dateFrom: DateSource
  readonly reader: string
  readonly record: InspectionRecord
}

/** What a person put right; `body` belongs to src/corrections. */
export interface Correction {
  readonly seq: number
  readonly who: string
  readonly at: string
  readonly body: unknown
}

/** The record as people left it: `bodies` are a note's corrections in their order, `text` its text now. */
export type Replay = (record: InspectionRecord, bodies: readonly unknown[], text: string) => InspectionRecord

/** How far back a judgement looks: visits that share a hive with the note. Keeps the cost of a note the same for ever. */
const historyLength = 40

/** The logbook: every method is one transaction; throws `logbook` for faults of the database. */
export class Logbook {
  constructor(
    private readonly db: Kysely<Tables>,
    private readonly kind: Kind,
    readonly where: string,
    private readonly replay: Replay,
  ) {}

  close(): Promise<void> {
    return this.db.destroy()
  }

  /** Content hashes by path. */
  async known(): Promise<Map<string, string>> {
    const rows = await this.guard(this.db.selectFrom('notes').select(['path', 'hash']).execute())
    return new Map(rows.map(({ path, hash }) => [path, hash]))
  }

  /** The number of the note at a path, and the hash of its bytes; undefined where there is none. */
  async at(path: string): Promise<{ id: number; hash: string } | undefined> {
    const query = this.db.selectFrom('notes').select(['id', 'hash']).where('path', '=', path)
    return this.guard(query.executeTakeFirst())
  }

  /** The same note under a new name: keeps its id and corrections. */
  async rename(from: string, to: string): Promise<void> {
    await this.guard(this.db.updateTable('notes').set({ path: to }).where('path', '=', from).execute())
  }

  /** Writes a note, or its new text, in one transaction. Findings of this and of later notes wait for `judgeWaiting`. */
  async write(note: NewNote): Promise<number> {
    const row = {
      path: note.path,
      name: note.name,
      hash: note.hash,
      source: Buffer.from(note.source),
      text: clean(note.text),
      reader: note.reader,
      as_read: clean(JSON.stringify(note.record)),
      judged: 0,
    }
    return this.transact(async (tx) => {
      const before = await tx
        .updateTable('notes')
        .set({ judged: 0 })
        .where('path', '=', note.path)
        .returning(['id', 'date'])
        .executeTakeFirst()
      const record = before ? await this.corrected(tx, before.id, note.record, row.text) : note.record
      const corrected = { ...row, ...dayOf(note, record), record: clean(JSON.stringify(record)) }
      const from = before && before.date < corrected.date ? before.date : corrected.date
      let id = before?.id
      if (id === undefined) {
        id = (await tx.insertInto('notes').values(corrected).returning('id').executeTakeFirstOrThrow()).id
      } else {
        await tx.updateTable('notes').set(corrected).where('id', '=', id).execute()
        await tx.deleteFrom('findings').where('note', '=', id).execute()
      }
      await tx.updateTable('notes').set({ judged: 0 }).where('date', '>=', from).where('judged', '=', 1).execute()
      await writeReadings(tx, id, record)
      if (this.kind === 'sqlite') {
        await sql`delete from search where rowid = ${id}`.execute(tx)
        await sql`insert into search(rowid, text) values (${id}, ${row.text})`.execute(tx)
      }
      return id
    })
  }

  private async corrected(
    tx: Transaction<Tables>,
    note: number,
    record: InspectionRecord,
    text: string,
  ): Promise<InspectionRecord> {
    const rows = await tx.selectFrom('corrections').select('body').where('note', '=', note).orderBy('seq').execute()
    return rows.length === 0
      ? record
      : this.replay(
          record,
          rows.map(({ body }) => JSON.parse(body)),
          text,
        )
  }

  /** Judges every note whose findings are not up to date, earliest first; `judge` gets the earlier records. */
  async judgeWaiting(
    judge: (record: InspectionRecord, history: InspectionRecord[]) => Finding[],
    done: () => void = () => {},
  ): Promise<number> {
    for (let count = 0; ; count++) {
      const next = await this.guard(
        this.db
          .selectFrom('notes')
          .select(['id', 'date', 'record'])
          .where('judged', '=', 0)
          .orderBy('date')
          .orderBy('path')
          .limit(1)
          .executeTakeFirst(),
      )
      if (!next) return count
      const record: InspectionRecord = JSON.parse(next.record)
      const history = await this.history(record, next.date)
      const findings = judge(record, history)
      await this.transact(async (tx) => {
        await tx.updateTable('notes').set({ judged: 1 }).where('id', '=', next.id).execute()
        await tx.deleteFrom('findings').where('note', '=', next.id).execute()
        const rows = findings.map((finding, seq) => ({
          note: next.id,
          seq,
          rule: finding.rule,
          hive: finding.place.hive,
          kind: finding.kind,
          verdict: finding.verdict,
          what: clean(finding.says.what),
          body: clean(JSON.stringify(finding)),
        }))
        await inParts(rows, (part) => tx.insertInto('findings').values(part).execute())
      })
      done()
    }
  }

  /** All findings wait to be made again: the rules or the yard file have changed. */
  async judgeAgain(): Promise<void> {
    await this.guard(this.db.updateTable('notes').set({ judged: 0 }).execute())
  }

  /** Earlier records that share a hive with `record`, latest first. */
  async history(record: InspectionRecord, date: string): Promise<InspectionRecord[]> {
    const hives = record.hives.map(({ hive }) => hive)
    if (hives.length === 0) return []
    const rows = await this.guard(
      this.db
        .selectFrom('notes')
        .select('record')
        .where('date', '<', date)
        .where('id', 'in', this.db.selectFrom('readings').select('note').where('hive', 'in', hives))
        .orderBy('date', 'desc')
        .orderBy('path')
        .limit(historyLength)
        .execute(),
    )
    return rows.map((row) => JSON.parse(row.record))
  }

  /** The notes in order of their dates; with `hive`, those that speak of it. One at a time: memory stays flat. */
  async *notes(hive?: string, order: 'first to last' | 'last to first' = 'first to last'): AsyncGenerator<Note> {
    const way = order === 'first to last' ? 'asc' : 'desc'
    let query = this.db.selectFrom('notes').select('id').orderBy('date', way).orderBy('path', way)
    if (hive !== undefined) {
      query = query.where('id', 'in', this.db.selectFrom('readings').select('note').where('hive', '=', hive))
    }
    for (const { id } of await this.guard(query.execute())) {
      const note = await this.note(id)
      if (note) yield note
    }
  }

  /** One note; undefined where there is none of that number. */
  async note(id: number): Promise<Note | undefined> {
    const row = await this.guard(
      this.db
        .selectFrom('notes')
        .select(['id', 'path', 'name', 'hash', 'date', 'date_from', 'reader', 'record'])
        .where('id', '=', id)
        .executeTakeFirst(),
    )
    if (!row) return undefined
    const { date_from: dateFrom, record, ...rest } = row
    return { ...rest, dateFrom, record: JSON.parse(record) }
  }

  /** The bytes a note was read from. */
  async source(note: number): Promise<Uint8Array> {
    const query = this.db.selectFrom('notes').select('source').where('id', '=', note)
    return (await this.guard(query.executeTakeFirstOrThrow())).source
  }

  /** What was said in a note, and the record as the reader gave it, before anybody put anything right. */
  async asRead(note: number): Promise<{ text: string; record: InspectionRecord }> {
    const query = this.db.selectFrom('notes').select(['text', 'record', 'as_read']).where('id', '=', note)
    const row = await this.guard(query.executeTakeFirstOrThrow())
    return { text: row.text, record: JSON.parse(row.as_read ?? row.record) }
  }

  async findings(note: number): Promise<Finding[]> {
    const query = this.db.selectFrom('findings').select('body').where('note', '=', note).orderBy('seq')
    return (await this.guard(query.execute())).map(({ body }) => JSON.parse(body))
  }

  /** Labels of hives with the number of notes that speak of each. */
  async hives(): Promise<{ hive: string; notes: number }[]> {
    const rows = await this.guard(
      this.db
        .selectFrom('readings')
        .innerJoin('notes', 'notes.id', 'readings.note')
        .select(['hive', (eb) => eb.fn.count('note').distinct().as('notes')])
        .where('hive', 'is not', null)
        .groupBy('hive')
        .orderBy('hive')
        .execute(),
    )
    return rows.map(({ hive, notes }) => ({ hive: hive!, notes: Number(notes) }))
  }

  /** Notes in which all of `words` were said (in any form of the word), latest first, with the words around them. */
  async search(words: readonly string[]): Promise<{ path: string; date: string; excerpt: string }[]> {
    const asked = words.join(' ')
    const query =
      this.kind === 'sqlite'
        ? sql<{ path: string; date: string; excerpt: string }>`
            select notes.path, notes.date, snippet(search, 0, '[', ']', ' … ', 16) as excerpt
            from search join notes on notes.id = search.rowid
            where search match ${words.map((word) => `"${word.replaceAll('"', '""')}"`).join(' ')}
            order by notes.date desc, notes.path`
        : sql<{ path: string; date: string; excerpt: string }>`
            select path, date, ts_headline('english', text, plainto_tsquery('english', ${asked}),
              'StartSel=[, StopSel=], MaxWords=18, MinWords=8') as excerpt
            from notes where to_tsvector('english', text) @@ plainto_tsquery('english', ${asked})
            order by date desc, path`
    return (await this.guard(query.execute(this.db))).rows
  }

  /** Adds a correction behind those that are there; two programs at once both get their place. */
  correct(note: number, who: string, at: string, body: unknown): Promise<number> {
    return this.correctAll(note, [{ who, at, body }])
  }

  /** Adds corrections, all or none, and replays all of the note's on the record as it was read. Gives the last number. */
  async correctAll(note: number, added: readonly Omit<Correction, 'seq'>[]): Promise<number> {
    return this.transact(async (tx) => {
      // The write takes the note's lock before the last number is read.
      const old = await tx
        .updateTable('notes')
        .set({ judged: 0 })
        .where('id', '=', note)
        .returning(['date', 'record', 'as_read', 'text'])
        .executeTakeFirstOrThrow()
      const last = await tx
        .selectFrom('corrections')
        .select((eb) => eb.fn.max('seq').as('seq'))
        .where('note', '=', note)
        .executeTakeFirst()
      let seq = last?.seq ?? 0
      for (const { who, at, body } of added) {
        const values = { note, seq: ++seq, who, at, body: JSON.stringify(body) }
        await tx.insertInto('corrections').values(values).execute()
      }
      // Notes of an older schema were never corrected: as they stand is as they were read.
      const read: InspectionRecord = JSON.parse(old.as_read ?? old.record)
      const record = await this.corrected(tx, note, read, old.text)
      const day = record.date !== read.date && record.date !== null ? record.date : old.date
      const row = { record: clean(JSON.stringify(record)), as_read: clean(JSON.stringify(read)), date: day }
      await tx.updateTable('notes').set(row).where('id', '=', note).execute()
      await writeReadings(tx, note, record)
      const [from = day] = [day, old.date].sort()
      await tx.updateTable('notes').set({ judged: 0 }).where('date', '>=', from).where('judged', '=', 1).execute()
      return seq
    })
  }

  /** The corrections of a note, in the order made. */
  async corrections(note: number): Promise<Correction[]> {
    const query = this.db.selectFrom('corrections').selectAll().where('note', '=', note).orderBy('seq')
    return (await this.guard(query.execute())).map(({ seq, who, at, body }) => ({
      seq,
      who,
      at,
      body: JSON.parse(body),
    }))
  }

  private transact<T>(work: (tx: Transaction<Tables>) => Promise<T>): Promise<T> {
    return this.guard(this.db.transaction().execute(work))
  }

  private async guard<T>(work: Promise<T>): Promise<T> {
    try {
      return await work
    } catch (error) {
      throw logbookFault(error, this.where)
    }
  }
}

/** A day that was put right goes before the one that was said or stands in the file's name. */
const dayOf = (note: NewNote, { date }: InspectionRecord): { date: string; date_from: DateSource } =>
  date !== null && date !== note.record.date
    ? { date, date_from: 'put right' }
    : { date: note.date, date_from: note.dateFrom }

async function writeReadings(tx: Transaction<Tables>, note: number, record: InspectionRecord): Promise<void> {
  await tx.deleteFrom('readings').where('note', '=', note).execute()
  const readings = flatten(record).map((reading, seq) => ({
    ...readingRow(note, seq, reading),
    // The flat view begins with what was said of the visit.
    ...(seq < record.visit.length ? { hive: null } : {}),
  }))
  await inParts(readings, (part) => tx.insertInto('readings').values(part).execute())
}

/** PostgreSQL stores no NUL in a text; nobody says one. */
const clean = (text: string): string => text.replaceAll('\0', '')

/** Both databases limit the parameters of one statement. */
async function inParts<T>(rows: readonly T[], use: (part: T[]) => Promise<unknown>): Promise<void> {
  for (let i = 0; i < rows.length; i += 500) await use(rows.slice(i, i + 500))
}

function readingRow(note: number, seq: number, r: FlatReading) {
  const number = numberOf(r.value) ?? null
  const { hive, box, frame, side, field, unit, confidence, flag } = r
  return {
    ...{ note, seq, hive, box, frame, side, field, unit, confidence, flag, number },
    value: JSON.stringify(r.value),
    quote: clean(r.quote),
    entry: r.entry ?? null,
    detail: r.detail ?? null,
  }
}
