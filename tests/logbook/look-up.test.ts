import { cpSync, existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { openLogbook } from '../../src/logbook/open.ts'
import { combscribe } from '../command.ts'

/** What is looked up in a logbook of the demo season and a note with a treatment. */
let folder: string
let where: string

const look = (command: string, ...args: string[]) => combscribe([command, ...args, '--logbook', where])

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'combscribe-look-up-'))
  where = join(folder, 'season.db')
  cpSync('fixtures/notes', folder, { recursive: true })
  writeFileSync(join(folder, '2026-12-27.txt'), 'Hive one. Treated with oxalic acid. Six frames of brood.')
  expect(look('batch', folder, '--yard', 'fixtures/notes/yard.json').code).toBe(0)
}, 120_000)
afterAll(() => rmSync(folder, { recursive: true, force: true }))

test('history: the hives, then the visits of one with what changed and its trends', () => {
  expect(look('history').out).toMatch(
    /^1 {8}7 visits {2}2026-09-06 to 2026-12-27\n2 {8}5 visits {2}\S+ to \S+\nnuc {6}3 visits .*\nolive {4}6 visits .*\n$/,
  )
  const { out } = look('history', 'Olive')
  expect(out).toMatch(/^2026-09-20 {2}frames of brood 7 \(was 5\), eggs yes$/m)
  expect(out).toMatch(/^frames of brood\n +7 ┤/m)
  const unknown = look('history', 'walnut')
  expect([unknown.code, unknown.err]).toEqual([2, expect.stringContaining('which has 1, 2, nuc, olive')])
})

test('due: by day, late ones marked, the last visit of each hive', () => {
  const days = look('due', '--date', '2026-12-21').out.trimEnd().split('\n')
  // The traps that were last emptied in October: "blotter" is the keeper's own word for them.
  expect(days[0]).toMatch(/^2026-11-01 late {2}hive 2: empty the traps/)
  expect(days).toContainEqual(expect.stringMatching(/^2026-12-27 {2}hive 1: next look/))
  expect(look('due', '--date', '2026-12-28').out).toMatch(/^2026-12-27 late {2}hive olive: next look/m)
  // Hive 2 was only named in December.
  expect(days).toContainEqual(expect.stringMatching(/^2026-11-15 late {2}hive 2: next look .*visit of 2026-11-08/))
  expect(days.map((line) => line.slice(0, 10))).toEqual(days.map((line) => line.slice(0, 10)).sort())
  // As of a day in September nothing is known of November.
  expect(look('due', '--date', '2026-09-21').out).not.toMatch(/nuc|visit of 2026-1/)
})

test('search: any form of the words, latest first', () => {
  expect(look('search', 'blotters', 'dozen').out).toMatch(/^2026-10-18 {2}\S+\.json\n.*\*blotter\*/)
  expect(look('search', 'helicopter').out).toBe('No note has these words.\n')
})

test('log: a harvest and a treatment, the withdrawal period left to the label', () => {
  const { out, err } = look('log')
  // how sure each reading is belongs to the fitted confidence, not to the log
  expect(out.replace(/,yes,/g, ',,')).toBe(
    `date,hive,what,frames,kg,ingredient,amount,withdrawal,check,said,note
2026-10-18,1,harvest,2,,,,,,Two frames taken,2026-10-18-paddock
2026-12-27,1,treatment,,,oxalic acid,,,,Treated with oxalic acid,2026-12-27
`,
  )
  expect(err).toMatch(/1 treatment needs its withdrawal period from the product's label/)
})

test('reread: corrections stay, and what changed is printed', async () => {
  const book = await openLogbook(where)
  const ids: number[] = []
  for await (const { id } of book.notes()) ids.push(id)
  await book.correct(ids[0]!, 'keeper', '2026-12-30T08:00:00Z', { kept: true })
  await book.close()
  const yard = ['--yard', 'fixtures/notes/yard.json']
  expect(look('reread', ...yard).out).toBe('7 notes read again, 0 with other values.\n')
  // Without the yard file the season reads otherwise, and with it as before.
  expect(look('reread').out).toMatch(/- visit\.apiary: "Quarry Paddock"\n/)
  expect(look('reread', ...yard).out).toMatch(/\+ visit\.apiary: "Quarry Paddock"\n/)
  const after = await openLogbook(where)
  expect((await after.corrections(ids[0]!)).map(({ body }) => body)).toEqual([{ kept: true }])
  await after.close()
}, 120_000)

test('a mistyped logbook makes no empty one', () => {
  const typo = join(folder, 'typo.db')
  const { code, err } = combscribe(['due', '--logbook', typo])
  expect([code, err]).toEqual([2, expect.stringMatching(/typo\.db: no such logbook; make it with .*\.\n$/)])
  expect(existsSync(typo)).toBe(false)
})
