import { type Kysely, sql, type Transaction } from 'kysely'
import type { InspectionRecord } from '../record/schema.ts'
import type { Finding } from '../rules/finding.ts'
import { logbookFault, pastDeadlocks } from './faults.ts'
import type { Kind } from './migrations.ts'
import { unpack } from './packed.ts'
import { type FindingRows, findingRows, type NewNote, type NoteRows, noteRows, recordRows } from './rows.ts'
import type { DateSource, Tables } from './tables.ts'

/** A note as it stands in the logbook, without its source. */
export interface Note {
  readonly id: number
  readonly path: string
  readonly name: string
  readonly hash: string
  readonly date: string
  readonly dateFrom: DateSource
  /** Program and grammar that read it, program and rules that judged it; the latter is null before. */
  readonly reader: string
  readonly judgedBy: string | null
  readonly record: InspectionRecord
}

/** A note as it lies in the database. */
export interface StoredNote extends Pick<Note, 'id' | 'path' | 'name' | 'hash' | 'date' | 'reader'> {
  readonly source: Uint8Array
  readonly record: Uint8Array | string
  /** Bodies of its corrections in their order. */
  readonly corrections: readonly unknown[]
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

/** A note to be judged: its record, packed, and the earlier visits that share a hive with it as JSON, latest first. */
export interface Waiting {
  readonly name: string
  readonly date: string
  /** Whether it was never judged since it was written. */
  readonly isNew: boolean
  readonly record: Uint8Array | string
  readonly history: readonly string[]
}

/** What stands before and behind a word that was searched for: nothing that a transcript has. */
export const foundWord = ['\u27ea', '\u27eb'] as const

/** How many notes are judged in one transaction. */
const judgedAtOnce = 16

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

  /** Whether programs on several machines can write to it at once. */
  get isShared(): boolean {
    return this.kind === 'postgres'
  }

  close(): Promise<void> {
    return this.db.destroy()
  }

  /** Content hashes by path, of all notes or of those at `paths`. */
  async known(paths?: readonly string[]): Promise<Map<string, string>> {
    const all = this.db.selectFrom('notes').select(['path', 'hash'])
    const rows = await this.guard((paths ? all.where('path', 'in', paths) : all).execute())
    return new Map(rows.map(({ path, hash }) => [path, hash]))
  }

  /** The path of a note with these bytes; undefined where there is none. */
  async withHash(hash: string): Promise<string | undefined> {
    const query = this.db.selectFrom('notes').select('path').where('hash', '=', hash).orderBy('path').limit(1)
    return (await this.guard(query.executeTakeFirst()))?.path
  }

  /** The number of the note at a path, and the hash of its bytes; undefined where there is none. */
  async at(path: string): Promise<{ id: number; hash: string } | undefined> {
    const query = this.db.selectFrom('notes').select(['id', 'hash']).where('path', '=', path)
    return this.guard(query.executeTakeFirst())
  }

  /** The same note under a new name: keeps its id and corrections. */
  async rename(from: string, to: string): Promise<void> {
    await this.transact((tx) => tx.updateTable('notes').set({ path: to }).where('path', '=', from).execute())
  }

  /** Writes a note, or its new text, in one transaction. Findings of this and of later notes wait for judging. */
  write(note: NewNote): Promise<number> {
    return this.writeRows(noteRows(note))
  }

  /** The same for a note that was made ready elsewhere. */
  writeRows(note: NoteRows): Promise<number> {
    return this.transact(async (tx) => {
      await this.beginWriting(tx)
      const before = await tx
        .updateTable('notes')
        .set({ judged: 0 })
        .where('path', '=', note.path)
        .returning(['id', 'date'])
        .executeTakeFirst()
      const corrected = before && (await this.corrected(tx, before.id, () => unpack(note.record), note.text))
      const { record, brief, readings, hives } = corrected ? recordRows(corrected) : note
      const row = {
        ...{ path: note.path, name: note.name, hash: note.hash, text: note.text, reader: note.reader, brief },
        ...dayOf(note, corrected?.date ?? note.recordDate),
        source: Buffer.from(note.source),
        record: Buffer.from(record),
        as_read: corrected ? Buffer.from(note.record) : null,
        findings: null,
        judged: 0,
      }
      let id = before?.id
      if (id === undefined) {
        id = (await tx.insertInto('notes').values(row).returning('id').executeTakeFirstOrThrow()).id
      } else {
        await tx.updateTable('notes').set(row).where('id', '=', id).execute()
        await tx.deleteFrom('findings').where('note', '=', id).execute()
      }
      await this.writeReadings(tx, id, readings)
      await writeVisits(tx, id, row.date, hives)
      await unjudge(tx, before && before.date < row.date ? before.date : row.date)
      if (this.kind === 'sqlite') {
        if (before) await sql`delete from search where rowid = ${id}`.execute(tx)
        await sql`insert into search(rowid, text) values (${id}, ${note.text})`.execute(tx)
      }
      return id
    })
  }

  /** The record with a note's corrections replayed; undefined where there are none. */
  private async corrected(
    tx: Transaction<Tables>,
    note: number,
    record: () => InspectionRecord,
    text: string,
  ): Promise<InspectionRecord | undefined> {
    const rows = await tx.selectFrom('corrections').select('body').where('note', '=', note).orderBy('seq').execute()
    if (rows.length === 0) return undefined
    return this.replay(
      record(),
      rows.map(({ body }) => JSON.parse(body)),
      text,
    )
  }

  /** Judges every note whose findings are not up to date, earliest first; `judge` gets the earlier records. */
  judgeWaiting(judge: (record: InspectionRecord, history: InspectionRecord[]) => Finding[], by = ''): Promise<number> {
    const work = async ({ record, history }: Waiting) => {
      const earlier = history.map((one) => JSON.parse(one))
      return findingRows(judge(unpack(record), earlier))
    }
    return this.judgeBlocks(work, by)
  }

  /**
   * The same with findings made elsewhere, many at a time. A block is one transaction in which nothing else is written,
   * so that no note that comes in meanwhile is missed; several programs take different blocks. Gives how many were judged.
   */
  async judgeBlocks<R extends FindingRows>(
    judge: (note: Waiting) => Promise<R>,
    by: string,
    done: (note: Waiting, result: R) => void = () => {},
  ): Promise<number> {
    for (let count = 0; ; ) {
      const judged = await this.transact(async (tx) => {
        await this.beginJudging(tx)
        const waiting = await this.nextWaiting(tx)
        const results = await Promise.all(
          waiting.map(async ({ id, note }) => ({ id, note, result: await judge(note) })),
        )
        for (const { id, result } of results) {
          const row = { judged: 1, findings: Buffer.from(result.findings), judged_by: by }
          await tx.updateTable('notes').set(row).where('id', '=', id).execute()
          await tx.deleteFrom('findings').where('note', '=', id).execute()
          await this.writeTold(tx, id, result.told)
        }
        return results
      })
      if (judged.length === 0) return count
      count += judged.length
      for (const { note, result } of judged) done(note, result)
    }
  }

  private async nextWaiting(tx: Transaction<Tables>): Promise<{ id: number; note: Waiting }[]> {
    const query = tx
      .selectFrom('notes')
      .select(['id', 'name', 'date', 'record', 'findings'])
      .where('judged', '=', 0)
      .orderBy('date')
      .orderBy('path')
      .limit(judgedAtOnce)
    const rows = await (this.kind === 'postgres' ? query.forUpdate().skipLocked() : query).execute()
    const out: { id: number; note: Waiting }[] = []
    for (const { id, findings, ...note } of rows) {
      const visits = tx.selectFrom('visits').select('hive').where('note', '=', id)
      const hives = (await visits.execute()).map(({ hive }) => hive)
      const history = await this.briefs(tx, hives, note.date)
      out.push({ id, note: { ...note, isNew: findings === null, history } })
    }
    return out
  }

  /** How many notes were read by another program or grammar than this. */
  async notReadBy(reader: string): Promise<number> {
    const query = this.db
      .selectFrom('notes')
      .select((eb) => eb.fn.countAll().as('count'))
      .where('reader', '!=', reader)
    return Number((await this.guard(query.executeTakeFirstOrThrow())).count)
  }

  /** How many notes wait to be judged. */
  async waiting(): Promise<number> {
    const query = this.db
      .selectFrom('notes')
      .select((eb) => eb.fn.countAll().as('count'))
      .where('judged', '=', 0)
    return Number((await this.guard(query.executeTakeFirstOrThrow())).count)
  }

  /** All findings wait to be made again: the rules or the yard file have changed. */
  async judgeAgain(): Promise<void> {
    await this.transact((tx) => tx.updateTable('notes').set({ judged: 0 }).execute())
  }

  /** Earlier records that share a hive with `record`, latest first, without how their values came about. */
  async history(record: InspectionRecord, date: string): Promise<InspectionRecord[]> {
    const hives = [...new Set(record.hives.map(({ hive }) => hive))]
    return (await this.guard(this.briefs(this.db, hives, date))).map((one) => JSON.parse(one))
  }

  private async briefs(db: Kysely<Tables>, hives: readonly string[], date: string): Promise<string[]> {
    const found = new Map<number, { date: string; path: string }>()
    for (const hive of hives) {
      const rows = await db
        .selectFrom('visits')
        .innerJoin('notes', 'notes.id', 'visits.note')
        .select(['notes.id', 'notes.date', 'notes.path'])
        .where('visits.hive', '=', hive)
        .where('visits.date', '<', date)
        .orderBy('visits.date', 'desc')
        .orderBy('notes.path')
        .limit(historyLength)
        .execute()
      for (const { id, ...rest } of rows) found.set(id, rest)
    }
    const latest = [...found]
      .sort(([, a], [, b]) => (a.date !== b.date ? (a.date < b.date ? 1 : -1) : a.path < b.path ? -1 : 1))
      .slice(0, historyLength)
      .map(([id]) => id)
    const briefs = new Map<number, string>()
    for (let i = 0; i < latest.length; i += 10) {
      // Always ten, so that the statement is prepared once.
      const ids = Array.from({ length: 10 }, (_, n) => latest[i + n] ?? 0)
      const rows = await db
        .selectFrom('notes')
        .select(['id', 'brief', (eb) => eb.case().when('brief', 'is', null).then(eb.ref('record')).end().as('record')])
        .where('id', 'in', ids)
        .execute()
      for (const { id, brief, record } of rows) briefs.set(id, brief ?? JSON.stringify(unpack(record!)))
    }
    return latest.flatMap((id) => briefs.get(id) ?? [])
  }

  /** The notes in order of their dates; with `hive`, those that speak of it. One at a time: memory stays flat. */
  async *notes(hive?: string, order: 'first to last' | 'last to first' = 'first to last'): AsyncGenerator<Note> {
    const way = order === 'first to last' ? 'asc' : 'desc'
    let query = this.db.selectFrom('notes').select('id').orderBy('date', way).orderBy('path', way)
    if (hive !== undefined) {
      query = query.where(
        'id',
        'in',
        this.db.selectFrom('visits').select('note').where('hive', '=', hive).where('readings', '>', 0),
      )
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
        .select(['id', 'path', 'name', 'hash', 'date', 'date_from', 'reader', 'judged_by', 'record'])
        .where('id', '=', id)
        .executeTakeFirst(),
    )
    if (!row) return undefined
    const { date_from: dateFrom, judged_by: judgedBy, record, ...rest } = row
    return { ...rest, dateFrom, judgedBy, record: unpack(record) }
  }

  /**
   * Every note in order of the dates, one at a time, as it takes to read it once more: its source, its record as it lies
   * in the database, and what people put right.
   */
  async *stored(): AsyncGenerator<StoredNote> {
    const ids = await this.guard(this.db.selectFrom('notes').select('id').orderBy('date').orderBy('path').execute())
    for (const { id } of ids) {
      const query = this.db
        .selectFrom('notes')
        .select(['id', 'path', 'name', 'hash', 'date', 'reader', 'source', 'record'])
      const row = await this.guard(query.where('id', '=', id).executeTakeFirst())
      if (row) yield { ...row, corrections: (await this.corrections(id)).map(({ body }) => body) }
    }
  }

  /** How many notes there are. */
  async count(): Promise<number> {
    const query = this.db.selectFrom('notes').select((eb) => eb.fn.countAll().as('count'))
    return Number((await this.guard(query.executeTakeFirstOrThrow())).count)
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
    return { text: row.text, record: unpack(row.as_read ?? row.record) }
  }

  async findings(note: number): Promise<Finding[]> {
    const row = await this.guard(
      this.db.selectFrom('notes').select('findings').where('id', '=', note).executeTakeFirst(),
    )
    if (row?.findings) return unpack(row.findings)
    // As an older schema kept them.
    const query = this.db.selectFrom('findings').select('body').where('note', '=', note).where('body', '!=', '')
    return (await this.guard(query.orderBy('seq').execute())).map(({ body }) => JSON.parse(body))
  }

  /** Labels of hives with the number of notes that speak of each, and the days of the first and the last. */
  async hives(): Promise<{ hive: string; notes: number; first: string; last: string }[]> {
    const query = this.db
      .selectFrom('visits')
      .select(({ fn }) => ['hive', fn.countAll().as('notes'), fn.min('date').as('first'), fn.max('date').as('last')])
      .where('readings', '>', 0)
      .groupBy('hive')
      .orderBy('hive')
    return (await this.guard(query.execute())).map((row) => ({ ...row, notes: Number(row.notes) }))
  }

  /** Notes in which all of `words` were said (in any form of the word), latest first, with the words around them, marked by `foundWord`. */
  async search(words: readonly string[]): Promise<{ path: string; date: string; excerpt: string }[]> {
    const asked = words.join(' ')
    const query =
      this.kind === 'sqlite'
        ? sql<{ path: string; date: string; excerpt: string }>`
            select notes.path, notes.date, snippet(search, 0, ${foundWord[0]}, ${foundWord[1]}, ' … ', 16) as excerpt
            from search join notes on notes.id = search.rowid
            where search match ${words.map((word) => `"${word.replaceAll('"', '""')}"`).join(' ')}
            order by notes.date desc, notes.path`
        : sql<{ path: string; date: string; excerpt: string }>`
            select path, date, ts_headline('english', text, plainto_tsquery('english', ${asked}),
              ${`StartSel=${foundWord[0]}, StopSel=${foundWord[1]}, MaxWords=18, MinWords=8`}) as excerpt
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
      await this.beginWriting(tx)
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
      const read: InspectionRecord = unpack(old.as_read ?? old.record)
      const record = (await this.corrected(tx, note, () => read, old.text)) ?? read
      const day = record.date !== read.date && record.date !== null ? record.date : old.date
      const rows = recordRows(record)
      const row = {
        ...{ brief: rows.brief, date: day },
        record: Buffer.from(rows.record),
        as_read: typeof old.as_read === 'string' ? old.as_read : Buffer.from(old.as_read ?? old.record),
      }
      await tx.updateTable('notes').set(row).where('id', '=', note).execute()
      await this.writeReadings(tx, note, rows.readings)
      await writeVisits(tx, note, day, rows.hives)
      const [from = day] = [day, old.date].sort()
      await unjudge(tx, from)
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

  /** Of each note that was corrected in this way, the bodies of all its corrections in their order. */
  async notesCorrectedBy(kind: string): Promise<unknown[][]> {
    const such = this.db.selectFrom('corrections').select('note').where('body', 'like', `%"kind":"${kind}"%`)
    const query = this.db.selectFrom('corrections').select(['note', 'body']).where('note', 'in', such)
    const notes = new Map<number, unknown[]>()
    for (const { note, body } of await this.guard(query.orderBy('note').orderBy('seq').execute()))
      notes.set(note, [...(notes.get(note) ?? []), JSON.parse(body)])
    return [...notes.values()]
  }

  /** One that stays behind `beginJudging` of any program. */
  private async beginWriting(tx: Transaction<Tables>): Promise<void> {
    if (this.kind === 'postgres') await sql`lock table visits in row exclusive mode`.execute(tx)
  }

  /** Until the transaction ends nothing is written; others may judge other notes. */
  private async beginJudging(tx: Transaction<Tables>): Promise<void> {
    if (this.kind === 'postgres') await sql`lock table visits in share mode`.execute(tx)
    // SQLite has one writer: whoever has written something in a transaction.
    else
      await tx
        .updateTable('schema_version')
        .set((eb) => ({ version: eb.ref('version') }))
        .execute()
  }

  private async writeReadings(tx: Transaction<Tables>, note: number, rows: string): Promise<void> {
    await tx.deleteFrom('readings').where('note', '=', note).execute()
    const into = sql.raw(`insert into readings (note, ${readingColumns.map(([name]) => name).join(', ')})`)
    await sql`${into} select ${note}, ${this.fromJson(readingColumns, rows)}`.execute(tx)
  }

  private async writeTold(tx: Transaction<Tables>, note: number, rows: string): Promise<void> {
    const into = sql.raw(`insert into findings (note, ${findingColumns.map(([name]) => name).join(', ')}, body)`)
    const from = this.fromJson(findingColumns, rows, `, ''`)
    await sql`${into} select ${note}, ${from}`.execute(tx)
  }

  /** The columns of a list of JSON objects: the same statement whatever their number. */
  private fromJson(columns: readonly (readonly [name: string, type: string])[], rows: string, more = '') {
    if (this.kind === 'sqlite') {
      const list = columns.map(([name]) => `value ->> '${name}'`).join(', ')
      return sql`${sql.raw(list + more)} from json_each(${rows})`
    }
    const list = columns.map(([name]) => `r.${name}`).join(', ')
    const types = columns.map(([name, type]) => `${name} ${type}`).join(', ')
    return sql`${sql.raw(list + more)} from json_to_recordset(${rows}::json) as ${sql.raw(`r(${types})`)}`
  }

  private transact<T>(work: (tx: Transaction<Tables>) => Promise<T>): Promise<T> {
    return this.guard(pastDeadlocks(() => this.db.transaction().execute(work)))
  }

  private async guard<T>(work: Promise<T>): Promise<T> {
    try {
      return await work
    } catch (error) {
      throw logbookFault(error, this.where)
    }
  }
}

const readingColumns = [
  ['seq', 'integer'],
  ['hive', 'text'],
  ['box', 'text'],
  ['frame', 'integer'],
  ['side', 'text'],
  ['field', 'text'],
  ['value', 'text'],
  ['number', 'double precision'],
  ['unit', 'text'],
  ['confidence', 'double precision'],
  ['flag', 'text'],
  ['quote', 'text'],
  ['entry', 'integer'],
  ['detail', 'text'],
] as const
const findingColumns = [
  ['seq', 'integer'],
  ['rule', 'text'],
  ['hive', 'text'],
  ['kind', 'text'],
  ['verdict', 'text'],
  ['what', 'text'],
] as const

/** A day that was put right goes before the one that was said or stands in the file's name. */
const dayOf = (note: NoteRows, date: string | null): { date: string; date_from: DateSource } =>
  date !== null && date !== note.recordDate
    ? { date, date_from: 'put right' }
    : { date: note.date, date_from: note.dateFrom }

async function writeVisits(
  tx: Transaction<Tables>,
  note: number,
  date: string,
  hives: NoteRows['hives'],
): Promise<void> {
  await tx.deleteFrom('visits').where('note', '=', note).execute()
  for (const [hive, readings] of hives) await tx.insertInto('visits').values({ hive, date, note, readings }).execute()
}

/** What was judged before and may be judged otherwise now. */
async function unjudge(tx: Transaction<Tables>, from: string): Promise<void> {
  await tx.updateTable('notes').set({ judged: 0 }).where('judged', '=', 1).where('date', '>=', from).execute()
}
