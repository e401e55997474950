import { mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import Sqlite from 'better-sqlite3'
import pg from 'pg'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { migrations } from '../../src/logbook/migrations.ts'
import { openLogbook } from '../../src/logbook/open.ts'
import { readNote } from '../../src/read-note.ts'
import { judge } from '../../src/rules/judge.ts'
import { hasServer, startServer } from './server.ts'

const folder = mkdtempSync(join(tmpdir(), 'combscribe-schema-'))
let server: ReturnType<typeof startServer> | undefined
beforeAll(() => {
  if (hasServer) server = startServer()
}, 60_000)
afterAll(() => {
  server?.stop()
  rmSync(folder, { recursive: true, force: true })
})

const dates = ['2026-09-06', '2026-09-20', '2026-11-08'] as const
const records = dates.map((date) => {
  const name = `${date}-paddock`
  return readNote(readFileSync(`fixtures/notes/${name}.txt`), { name, date })
})

/** Rows as the second schema kept them: plain JSON, a row a finding. */
const statements = records.flatMap((record, i) => {
  const literal = (text: string) => `'${text.replaceAll("'", "''")}'`
  const json = literal(JSON.stringify(record))
  const findings = judge(record, records.slice(0, i).reverse())
  return [
    `insert into notes (path, name, hash, source, text, date, date_from, reader, record, as_read, judged) values
      ('/n/${record.note}', '${record.note}', 'h${i}', 'abc', 'words', '${record.date}', 'said', 'old', ${json}, ${json}, 1)`,
    ...record.hives.map(
      ({ hive, readings }) =>
        `insert into readings (note, seq, hive, field, value, confidence, flag, quote)
          values (${i + 1}, ${100 + record.hives.findIndex((one) => one.hive === hive)}, '${hive}', 'any', '1', 1, 'sure', '${readings.length}')`,
    ),
    ...findings.map(
      (finding, seq) =>
        `insert into findings (note, seq, rule, kind, verdict, what, body) values
          (${i + 1}, ${seq}, '${finding.rule}', '${finding.kind}', '${finding.verdict}', '', ${literal(JSON.stringify(finding))})`,
    ),
  ]
})

describe.each(['sqlite', 'postgres'] as const)('a logbook of the second schema, on %s', (kind) => {
  test.skipIf(kind === 'postgres' && !hasServer)('is opened, and nothing in it is lost', async () => {
    const where = kind === 'sqlite' ? join(folder, 'old.db') : server!.address('old')
    const old = migrations.slice(0, 2).flatMap((statementsOf) => statementsOf(kind))
    const all = [
      ...old,
      'create table schema_version (version integer not null)',
      'insert into schema_version values (2)',
      ...statements,
    ]
    if (kind === 'sqlite') {
      const raw = new Sqlite(where)
      for (const statement of all) raw.exec(statement)
      raw.close()
    } else {
      const client = new pg.Client(where)
      await client.connect()
      for (const statement of all) await client.query(statement)
      await client.end()
    }
    const book = await openLogbook(where)
    const kept = []
    for await (const note of book.notes()) kept.push(note)
    expect(kept.map(({ record }) => record)).toEqual(records)
    for (const [i, { id }] of kept.entries()) {
      expect(await book.findings(id)).toEqual(judge(records[i]!, records.slice(0, i).reverse()))
      expect((await book.asRead(id)).record).toEqual(records[i])
    }
    expect((await book.history(records[2]!, dates[2])).map(({ note }) => note)).toEqual(
      [records[1]!, records[0]!].map(({ note }) => note),
    )
    await book.judgeAgain()
    expect(await book.judgeWaiting((record, history) => judge(record, history))).toBe(3)
    expect(await book.findings(kept[2]!.id)).toEqual(judge(records[2]!, [records[1]!, records[0]!]))
    await book.close()
  })
})

test('an earlier visit without how its values came about is judged the same', async () => {
  const book = await openLogbook(join(folder, 'brief.db'))
  for (const record of records)
    await book.write({
      ...{ path: record.note, name: record.note, hash: record.note, source: new Uint8Array(), text: '', record },
      ...{ date: record.date!, dateFrom: 'said', reader: 'test' },
    })
  const brief = await book.history(records[2]!, dates[2])
  expect(JSON.stringify(brief).length).toBeLessThan(JSON.stringify(records.slice(0, 2)).length / 2)
  expect(judge(records[2]!, brief)).toEqual(judge(records[2]!, [records[1]!, records[0]!]))
  await book.close()
})
