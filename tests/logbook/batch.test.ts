import { spawn } from 'node:child_process'
import { cpSync, mkdirSync, mkdtempSync, readFileSync, renameSync, rmSync, utimesSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import Sqlite from 'better-sqlite3'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { openLogbook } from '../../src/logbook/open.ts'
import { cli, combscribe } from '../command.ts'
import { writeNotes } from '../generate/write.ts'
import { contentOf } from './content.ts'
import { hasServer, startServer } from './server.ts'

/** Over the demo season. */
const yard = 'fixtures/notes/yard.json'
let folder: string
let notes: string
let server: ReturnType<typeof startServer> | undefined

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'combscribe-batch-'))
  notes = join(folder, 'notes')
  cpSync('fixtures/notes', notes, { recursive: true })
  if (hasServer) server = startServer()
}, 60_000)
afterAll(() => {
  server?.stop()
  rmSync(folder, { recursive: true, force: true })
})

const batch = (where: string, from = notes) => combscribe(['batch', from, '--logbook', where, '--yard', yard])

describe('the demo season', () => {
  test('is read once, and the rules hear of the visits before', async () => {
    const where = join(folder, 'season.db')
    const first = batch(where)
    expect([first.code, first.err]).toEqual([0, ''])
    expect(first.out).toMatch(/^6 notes read \(\d+ words\), 0 unchanged, 6 judged\.\n {2}2026-09-06 {2}\S+ \(said\)/)
    expect(first.out).toMatch(/Urgent\n/)
    expect(batch(where).out).toBe('0 notes read (0 words), 6 unchanged, 0 judged.\n')
    const book = await openLogbook(where)
    let fromEarlier = 0
    for await (const { id, name } of book.notes()) {
      for (const finding of await book.findings(id)) if (finding.restsOn.some((one) => one.note !== name)) fromEarlier++
    }
    await book.close()
    expect(fromEarlier).toBeGreaterThan(5)
  })

  test('a note that was changed, moved, copied or is none', () => {
    const where = join(folder, 'changes.db')
    const own = join(folder, 'own')
    cpSync(notes, own, { recursive: true })
    batch(where, own)
    const file = join(own, '2026-12-20-paddock.txt')
    writeFileSync(file, `${readFileSync(file, 'utf8')} Hive one, two stings.`)
    renameSync(join(own, '2026-09-06-paddock.txt'), join(own, 'first-2026-09-06.txt'))
    cpSync(join(own, '2026-09-20-paddock.txt'), join(own, 'copy.txt'))
    writeFileSync(join(own, 'broken.json'), '{"text": ')
    writeFileSync(join(own, 'walk-2026-05-03.txt'), 'Hive one. Five frames of brood.')
    writeFileSync(join(own, 'talk.txt'), 'Hive two. Five frames of brood.')
    utimesSync(join(own, 'talk.txt'), new Date(2026, 3, 2, 12), new Date(2026, 3, 2, 12))
    const { code, out, err } = batch(where, own)
    expect(code).toBe(1)
    expect(err.trimEnd().split('\n').sort()).toEqual([
      expect.stringMatching(/broken\.json/),
      expect.stringMatching(/copy\.txt: the same as .*2026-09-20-paddock\.txt; left out\.$/),
    ])
    expect(out).toMatch(/^3 notes read \(\d+ words\), 6 unchanged/)
    expect(out).toContain('2026-05-03  walk-2026-05-03.txt (file name)')
    expect(out).toContain('2026-04-02  talk.txt (file time)')
  })

  test('a day that only the transcript gives for its recording', () => {
    const own = join(folder, 'recorded')
    mkdirSync(own)
    cpSync('fixtures/transcripts/speechmatics.json', join(own, 'spoken.json'))
    utimesSync(join(own, 'spoken.json'), new Date(2026, 8, 2, 12), new Date(2026, 8, 2, 12))
    const { code, out } = combscribe(['batch', own, '--logbook', join(folder, 'recorded.db')])
    expect(code).toBe(0)
    expect(out).toContain('  2026-05-01  spoken.json (recording)')
  })

  test('a new name near a known one is asked about', () => {
    const where = join(folder, 'names.db')
    const own = join(folder, 'names')
    cpSync(notes, own, { recursive: true })
    batch(where, own)
    writeFileSync(
      join(own, '2026-12-28.txt'),
      'Hive two. Calm. Then Olivee. Olivee has six frames of brood, eggs. Olivee is calm.',
    )
    const { out } = combscribe(['batch', own, '--logbook', where])
    expect(out).toContain('"olivee" is new and near to "olive"')
  })
})

test('on two threads it ends where it does on one', async () => {
  const many = join(folder, 'many')
  writeNotes(many, 40)
  const [one, two] = [join(folder, 'one.db'), join(folder, 'two.db')]
  const run = (where: string, cores: string) => combscribe(['batch', many, '--logbook', where, '--cores', cores])
  expect(run(two, '2')).toEqual(run(one, '1'))
  expect(run(two, '2').out).toBe('0 notes read (0 words), 40 unchanged, 0 judged.\n')
  expect(await contentOf(two)).toEqual(await contentOf(one))
  expect(run(one, '0').err).toMatch(/--cores takes a number from 1 to 256, not "0"/)
}, 60_000)

describe.each(['sqlite', 'postgres'])('stopped by force, on %s', (kind) => {
  test.skipIf(kind === 'postgres' && !hasServer)(
    'a rerun ends where an undisturbed run does',
    async () => {
      const place = (name: string) => (kind === 'sqlite' ? join(folder, `${name}.db`) : server!.address(name))
      const whole = place('whole')
      const start = Date.now()
      batch(whole)
      const took = Date.now() - start
      const cut = place('cut')
      for (let i = 1; i <= 4; i++) {
        const child = spawn(process.execPath, [cli, 'batch', notes, '--logbook', cut, '--yard', yard], {
          stdio: 'ignore',
        })
        const ended = new Promise((resolve) => child.on('exit', resolve))
        // Early, in the middle and late, shaken a little: no two runs are cut at the same statement.
        setTimeout(() => child.kill('SIGKILL'), took * (0.25 + i * 0.14 + Math.random() * 0.05))
        await ended
      }
      expect(batch(cut).code).toBe(0)
      expect(await contentOf(cut)).toEqual(await contentOf(whole))
    },
    180_000,
  )
})

describe('what stops a run is said in one sentence', () => {
  const oneSentence = /^combscribe: [^\n]+\.\n$/
  test.each([
    ['no folder named', ['batch'], /no folder was named/],
    ['no such folder', ['batch', 'no/such'], /no\/such: no such folder/],
    ['a file', ['batch', 'fixtures/notes/yard.json'], /a file, not a folder/],
    [
      'nobody at the address',
      ['batch', 'fixtures/notes', '--logbook', 'postgres://127.0.0.1:9/x'],
      /no database server/,
    ],
  ])('%s', (_, args, sentence) => {
    const { code, err } = combscribe(args)
    expect(err).toMatch(sentence)
    expect(err).toMatch(oneSentence)
    expect(code).toBe(2)
  })

  test('a locked logbook', () => {
    const where = join(folder, 'locked.db')
    batch(where)
    const raw = new Sqlite(where)
    raw.exec('begin immediate')
    writeFileSync(join(notes, 'late-2026-12-30.txt'), 'Hive one. Six frames of brood.')
    const { code, err } = batch(where)
    raw.exec('rollback')
    raw.close()
    expect([code, err]).toEqual([2, expect.stringMatching(/locked by another program/)])
    expect(err).toMatch(oneSentence)
    expect(batch(where).out).toMatch(/^1 note read/)
  })
})
