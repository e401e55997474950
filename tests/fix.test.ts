import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { parseCorrections } from '../src/corrections/correction.ts'
import { cli, combscribe, mayBeMissing } from './command.ts'
import { hasPty, startPty } from './pty.ts'

const skip = !hasPty && mayBeMissing
const folder = mkdtempSync(join(tmpdir(), 'combscribe-fix-'))
const note = join(folder, '2026-09-06-paddock.txt')
const yard = join(folder, 'yard.json')
beforeAll(() => cpSync('fixtures/notes', folder, { recursive: true }))
afterAll(() => rmSync(folder, { recursive: true, force: true }))

const fix = (...more: string[]) => startPty([cli, 'fix', note, '--yard', yard, '--who', 'ann', ...more])
const kept = () => parseCorrections(readFileSync(`${note}.corrections.jsonl`, 'utf8'), note)
const table = (path: string) => combscribe(['read', path, '--yard', yard, '--as', 'readings']).out

describe.skipIf(skip)('a session at a terminal', () => {
  test('one key for the usual answer, a number for another, back, skip, stop: all is kept at once', async () => {
    const session = fix()
    await session.shows(/Hive olive, \d more to look at[\s\S]*frames of bees: 8[\s\S]*q\s+stop/)
    session.type('2')
    await session.shows(/3 {2}not said[\s\S]*Enter leave it/)
    session.type('t')
    await session.shows(/Value/)
    session.type('minus\r')
    await session.shows(/type a number or a range/)
    session.type('\u0015')
    session.type('7-8\r')
    await session.shows(/frames of bees: 8 → 7 to 8[\s\S]*q\s+stop/)
    session.type('\r')
    await session.shows(/hive olive|olive:[\s\S]*now/)
    await session.shows(/b back[\s\S]*q\s+stop/)
    const first = kept()
    expect(first.map(({ kind }) => kind)).toEqual(['confirm', 'value'])
    expect(first[1]).toMatchObject({ who: 'ann', value: [7, 8], readings: [{ field: 'frames.bees', value: 8 }] })
    expect(table(note)).toMatch(/"field":"frames.bees","value":\[7,8\].*"flag":"sure","how":"corrected"/)
    session.type('b')
    await session.shows(/Hive olive, [\s\S]*q\s+stop/)
    expect(kept().map(({ kind }) => kind)).toEqual(['confirm', 'value', 'undo', 'undo'])
    session.type('s')
    await session.shows(/Hive \d, 4 more[\s\S]*q\s+stop/)
    session.type('\r')
    await session.shows(/Hive \d, [123] more[\s\S]*q\s+stop/)
    session.type('q')
    expect(await session.ended()).toBe(0)
    expect(session.screen()).toMatch(/1 correction kept in .*corrections\.jsonl; \d+ values left to look at\./)
    expect(kept().at(-1)!.kind).toBe('confirm')
    expect(table(note)).toMatch(/"hive":"olive".*"field":"frames.bees","value":8,.*"how":"stated"/)
  }, 120_000)

  test('a wrong hive from here on, a missed value, another day; what was said stays as it is', async () => {
    const said = readFileSync(note)
    const session = fix()
    await session.shows(/Hive olive, [\s\S]*q\s+stop/)
    session.type('h')
    await session.shows(/Which hive was it\?[\s\S]*Enter leave it/)
    session.type('t')
    await session.shows(/its number or name/)
    session.type('Hive Nine\r')
    await session.shows(/hive nine: how far\?[\s\S]*whole stretch/)
    session.type('w')
    await session.shows(/Hive nine, [\s\S]*q\s+stop/)
    session.type('+')
    await session.shows(/In which words/)
    session.type('Strong, boiling over\r')
    await session.shows(/What is it/)
    session.type('bearding\r')
    await session.shows(/no such value/)
    session.type('\u0015')
    session.type('sign.bearding\r')
    await session.shows(/yes, no/)
    session.type('y\r')
    await session.shows(/Hive nine, [\s\S]*q\s+stop/)
    session.type('o')
    await session.shows(/the day of the visit[\s\S]*Enter leave it/)
    session.type('d')
    await session.shows(/Day of the visit/)
    session.type('2026-09-07\r')
    await session.shows(/Hive nine, [\s\S]*q\s+stop/)
    session.type('\u0003')
    expect(await session.ended()).toBe(0)
    expect(readFileSync(note)).toEqual(said)
    const record = JSON.parse(combscribe(['read', note, '--yard', yard, '--as', 'record']).out)
    expect(record.date).toBe('2026-09-07')
    expect(record.hives.map(({ hive }: { hive: string }) => hive)).toEqual(['1', '2', 'nine'])
    const nine = JSON.stringify(record.hives[2])
    expect(nine).toMatch(/"field":"frames.bees"/)
    expect(nine).toMatch(/"field":"sign.bearding","value":"yes"/)
  }, 120_000)

  test('what was misheard is offered as a line of the yard file, and is right from then on', async () => {
    const plates = join(folder, 'plates.txt')
    writeFileSync(plates, 'Hive two. Bees on all the seams. We saw two pleats of foundation today. Queen seen.')
    const session = startPty([cli, 'fix', plates, '--yard', yard])
    await session.shows(/q\s+stop/)
    session.type('+')
    await session.shows(/In which words/)
    session.type('two pleats of foundation\r')
    await session.shows(/What is it/)
    session.type('frames of foundation\r')
    await session.shows(/frames of foundation/)
    session.type('2\r')
    await session.shows(/q\s+stop/)
    session.type('q')
    await session.shows(/"pleats" means "frames"[\s\S]*Enter yes/)
    session.type('\r')
    expect(await session.ended()).toBe(0)
    const text = readFileSync(yard, 'utf8')
    expect(text).toContain('    "pleats": "frames",\n')
    expect(text).toContain('// A late split that grew up.')
    writeFileSync(join(folder, 'next.txt'), 'Hive one. Six pleats of foundation.')
    expect(table(join(folder, 'next.txt'))).toMatch(/"hive":"1".*"field":"frames.foundation","value":6/)
  }, 120_000)
})

test.skipIf(skip)(
  'a logbook: the latest note first, kept in it, judged again',
  async () => {
    const notes = join(folder, 'book')
    cpSync('fixtures/notes', notes, { recursive: true })
    const where = join(folder, 'book.db')
    expect(combscribe(['batch', notes, '--logbook', where, '--yard', yard]).code).toBe(0)
    const session = startPty([cli, 'fix', '--logbook', where, '--yard', yard, '--who', 'ben'])
    await session.shows(/2026-12-20[\s\S]*q\s+stop/)
    session.type('\r')
    await session.shows(/b back[\s\S]*q\s+stop/)
    session.type('q')
    await session.shows(/1 correction in 1 note, kept in the logbook\./)
    expect(await session.ended()).toBe(0)
    expect(combscribe(['reread', '--logbook', where, '--yard', yard]).out).toBe(
      '6 notes read again, 0 with other values.\n',
    )
  },
  120_000,
)

test.skipIf(skip)(
  'a logbook: a hive of its own is not asked about again; the period on a label is written down',
  async () => {
    const notes = join(folder, 'alike')
    mkdirSync(notes)
    for (const [day, first, more] of [
      ['03', 'Olive', ''],
      ['10', 'Olive', ''],
      ['17', 'Olive', ''],
      ['24', 'Olivia', 'Treated with formic acid.'],
    ] as const)
      writeFileSync(
        join(notes, `2026-05-${day}.txt`),
        `${first} hive. Calm. Maybe six frames of brood. ${more} Next is Clover. Five frames of brood. Day ${day}.`,
      )
    const where = join(folder, 'alike.db')
    expect(combscribe(['batch', notes, '--logbook', where]).out).toContain('How long is the withdrawal period')
    const list = () => combscribe(['fix', '--list', '--logbook', where]).out
    const [alike, period] = [
      /"olivia" is new and near to hive olive/,
      /How long is the withdrawal period .* hive olivia/,
    ]
    expect([list(), list()]).toEqual([expect.stringMatching(alike), expect.stringMatching(period)])
    const session = startPty([cli, 'fix', '--logbook', where, '--who', 'ann'])
    await session.shows(/near to hive olive[\s\S]*a hive of its own/)
    session.type('n')
    for (;;) {
      if (/there/.test(await session.shows(/q\s+stop|as it stands there/i))) break
      session.type('\r')
    }
    session.type('21 days\r')
    await session.shows(/2026-05-17[\s\S]*q\s+stop/)
    session.type('q')
    expect(await session.ended()).toBe(0)
    expect(list()).not.toMatch(alike)
    expect(list()).not.toMatch(period)
    const log = combscribe(['log', '--logbook', where])
    expect([log.out, log.err]).toEqual([
      expect.stringMatching(/^2026-05-24,olivia,treatment,,,formic acid,,21 days,,Treated with formic acid,/m),
      '',
    ])
    expect(combscribe(['reread', '--logbook', where]).out).toBe('4 notes read again, 0 with other values.\n')
    expect(list()).not.toMatch(alike)
  },
  120_000,
)

test('without a terminal it says so in one sentence, and --list prints what it would ask', () => {
  const none = combscribe(['fix', note])
  expect([none.code, none.err]).toEqual([
    2,
    'combscribe: fix: asks on a terminal, and there is none; use --list to print what it would ask.\n',
  ])
  const list = combscribe(['fix', join(folder, '2026-09-20-paddock.txt'), '--yard', yard, '--list'])
  expect(list.code).toBe(0)
  expect(list.out).toMatch(/^\nHive .*more to look at\n {2}… .*\n/)
  expect(combscribe(['fix']).err).toMatch(/takes a note or --logbook, one of them/)
})

test('a damaged line of corrections is named, and the note is not read past it', () => {
  const path = join(folder, '2026-11-08-paddock.txt')
  writeFileSync(`${path}.corrections.jsonl`, '\n{"id":"a","at":"2026-01-01","who":"","kind":"confirm"}\n')
  const { code, err } = combscribe(['read', path])
  expect(code).toBe(1)
  expect(err).toMatch(
    /paddock\.txt\.corrections\.jsonl:2: not a correction \(readings: .*\); mend that line or take it out\.\n$/,
  )
})
