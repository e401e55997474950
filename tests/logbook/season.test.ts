import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { openLogbook } from '../../src/logbook/open.ts'
import type { Finding } from '../../src/rules/finding.ts'
import { combscribe } from '../command.ts'

/** A season of three hives, nine visits, as a night run brings it into a logbook. */
const yard = 'fixtures/season/yard.json'
let folder: string
let where: string
const findings = new Map<string, Finding[]>()

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'combscribe-season-'))
  where = join(folder, 'season.db')
  const { code, err } = combscribe(['batch', 'fixtures/season', '--logbook', where, '--yard', yard])
  expect([code, err]).toEqual([0, ''])
  const book = await openLogbook(where)
  for await (const { id, date } of book.notes()) findings.set(date, await book.findings(id))
  await book.close()
}, 60_000)
afterAll(() => rmSync(folder, { recursive: true, force: true }))

const verdict = (date: string, hive: string, rule: string) =>
  findings.get(date)?.find((one) => one.rule === rule && one.place.hive === hive)?.verdict

describe('what goes wrong is found while there is time', () => {
  test('eggs gone between two visits', () => {
    expect(verdict('2025-05-10', 'maple', 'queen-missing')).toBe('none')
    expect(verdict('2025-05-24', 'maple', 'queen-missing')).toBe('act')
    expect(verdict('2025-06-07', 'maple', 'queen-missing')).toBe('act')
    expect(verdict('2025-07-12', 'maple', 'queen-missing')).toBe('none')
  })

  // Wilson's interval of 2, 5, 9 and 16 mites in 300 bees; 3 of a hundred is the usual limit (Honey Bee Health
  // Coalition, Tools for Varroa Management).
  test('mites rising, over the limit, and down after the treatment', () => {
    expect(verdict('2025-04-26', '1', 'mites-high')).toBe('none')
    expect(verdict('2025-05-24', '1', 'mites-rising')).toBe('act')
    expect(verdict('2025-06-21', '1', 'mites-high')).toBe('act')
    expect(verdict('2025-08-02', '1', 'mites-high')).toBe('act')
    expect(verdict('2025-09-06', '1', 'mites-high')).toBe('none')
  })

  test('beetles rising, a month before there are many', () => {
    expect(verdict('2025-04-26', '3', 'beetles-rising')).toBe('none')
    expect(verdict('2025-05-10', '3', 'beetles-rising')).toBe('watch')
    expect(verdict('2025-05-10', '3', 'beetles-many')).toBe('none')
    expect(verdict('2025-07-12', '3', 'beetles-rising')).toBe('none')
  })

  test('temper worse from visit to visit, and better with another queen', () => {
    expect(verdict('2025-05-24', '3', 'temper-worse')).toBe('watch')
    expect(verdict('2025-06-07', '3', 'temper-worse')).toBe('act')
    expect(verdict('2025-08-02', '3', 'temper-worse')).toBe('none')
  })
})

describe('history', () => {
  const history = (hive: string) => combscribe(['history', hive, '--logbook', where]).out

  test('a row a visit, with what is other than when it was last said', () => {
    expect(history('maple')).toMatch(/^2025-05-24 {2}.*frames of brood 3 \(was 7\), eggs no \(was yes\)/m)
    expect(history('maple')).toMatch(/^2025-08-02 {2}.*stores adequate \(was low\)$/m)
  })

  test('mites with their interval, temper and stores drawn', () => {
    const one = history('1').split('\n')
    const at = one.findIndex((line) => line.startsWith('mites on 100 bees'))
    const rows = one.slice(at + 1, at + 6)
    expect(rows.map((row) => row.slice(0, 18).split(/\s+/)[1])).toEqual(['0.7', '1.7', '3.0', '5.3', '0.3'])
    for (const row of rows) expect(row).toMatch(/├─*●─*┤$/)
    // The last count lies below the one before with all that it may be off by.
    expect(rows[4]!.indexOf('┤')).toBeLessThan(rows[3]!.indexOf('├'))
    expect(history('3')).toMatch(/^aggressive ┼ +╭───────╮\n defensive ┤/m)
    expect(history('maple')).toMatch(/^ adequate ┤ {3}╭───\n {6}low ┼───╯/m)
  })

  test('what the days were taken from, and which grammar and rules were used', () => {
    expect(history('3')).toMatch(
      /\nDays: said 9\. Read by \S+, grammar [0-9a-f]{8}\.\nJudged by \S+, rules [0-9a-f]{8}\.\n$/,
    )
  })
})

test('log asks for the withdrawal period of each treatment', () => {
  const { out, err } = combscribe(['log', '--logbook', where])
  expect(out).toMatch(/^2025-07-12,1,harvest,4,,/m)
  expect(out).toMatch(/^2025-08-02,1,treatment,,,formic acid,,,/m)
  expect(err).toMatch(/2025-08-02 {2}How long is the withdrawal period on the label .* hive 1 .*\(formic acid\)\?/)
})
