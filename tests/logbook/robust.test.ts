import { execFileSync, spawn, spawnSync } from 'node:child_process'
import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { openCrew } from '../../src/cli/batch/crew.ts'
import { takeIn } from '../../src/cli/batch/take-in.ts'
import type { CombscribeError } from '../../src/errors.ts'
import { openLogbook } from '../../src/logbook/open.ts'
import { cli, combscribe } from '../command.ts'
import { writeNotes } from '../generate/write.ts'
import { contentOf } from './content.ts'

/** Enough that each moment falls on another statement; every round reads them all. */
const NOTES = 8
let folder: string
let notes: string
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'combscribe-robust-'))
  notes = join(folder, 'notes')
  writeNotes(notes, NOTES)
})
afterAll(() => rmSync(folder, { recursive: true, force: true }))

const batch = (where: string, from = notes) => combscribe(['batch', from, '--logbook', where])

test('killed at twenty moments, the logbook ends where an undisturbed run does', async () => {
  const whole = join(folder, 'whole.db')
  const start = Date.now()
  expect(batch(whole).code).toBe(0)
  const took = Date.now() - start
  const undisturbed = await contentOf(whole)
  let killed = 0
  for (let round = 0; killed < 20; round++) {
    const where = join(folder, `cut-${round}.db`)
    for (;;) {
      const child = spawn(process.execPath, [cli, 'batch', notes, '--logbook', where], { stdio: 'ignore' })
      const ended = new Promise((resolve) => child.on('exit', (code) => resolve(code)))
      // Each time later, and no two at the same statement.
      const timer = setTimeout(() => child.kill('SIGKILL'), took * (0.12 + 0.04 * (killed % 20) + 0.04 * Math.random()))
      const code = await ended
      clearTimeout(timer)
      if (code === 0) break
      killed++
    }
    expect(batch(where).out).toBe(`0 notes read (0 words), ${NOTES} unchanged, 0 judged.\n`)
    expect(await contentOf(where)).toEqual(undisturbed)
  }
}, 600_000)

test('a folder full of what is no note: each is named, the notes are read', () => {
  const own = join(folder, 'odd')
  mkdirSync(join(own, 'deep', 'deeper'), { recursive: true })
  const write = (name: string, content: string | Uint8Array) => writeFileSync(join(own, name), content)
  write('2026-05-01.txt', 'Hive one. Calm. Six frames of brood.')
  write('deep/deeper/2026-05-02.txt', 'Hive two. Calm. Five frames of brood.')
  write('empty.txt', '')
  write('blank.txt', ' \n\n ')
  write(
    'binary.txt',
    Uint8Array.from({ length: 4000 }, (_, i) => (i * 7919) % 256),
  )
  write('cut.json', '{"text": "hive one", "segments": [')
  write('huge.txt', 'Hive one. Calm. '.repeat(400_000))
  write('recording.wav', 'RIFF')
  write('notes.pdf', '%PDF')
  write('.hidden.txt', 'Hive nine. Calm.')
  mkdirSync(join(own, 'folder.txt'))
  symlinkSync(own, join(own, 'deep', 'round'))
  symlinkSync(join(own, 'gone-elsewhere.txt'), join(own, 'link.txt'))
  symlinkSync(join(own, 'knot.txt'), join(own, 'knot.txt'))
  execFileSync('mkfifo', [join(own, 'pipe.txt')])
  const { code, out, err } = batch(join(folder, 'odd.db'), own)
  expect(code).toBe(1)
  expect(out).toMatch(/^2 notes read \(14 words\), 0 unchanged, 2 judged\./)
  const named = err
    .trimEnd()
    .split('\n')
    .map((line) => /^combscribe: \S+\/([\w-]+\.\w+)(?::\d+)?: .+\.$/.exec(line)?.[1] ?? line)
  expect(named.sort()).toEqual(
    ['binary.txt', 'blank.txt', 'cut.json', 'empty.txt', 'huge.txt', 'knot.txt', 'link.txt'].sort(),
  )
})

test('a file that is gone when its turn comes', async () => {
  const book = await openLogbook(join(folder, 'gone.db'))
  const faults: CombscribeError[] = []
  const there = join(folder, 'there.txt')
  writeFileSync(there, 'Hive one. Calm.')
  async function* paths() {
    yield join(folder, 'was-here.txt')
    yield there
  }
  let read = 0
  const terminal = { out() {}, err() {}, readInput: async () => new Uint8Array(), style: { colour: false, width: 80 } }
  await takeIn(
    paths(),
    { book, crew: openCrew(1, undefined), terminal },
    { read: () => read++, same() {}, fault: (error) => faults.push(error) },
  )
  await book.close()
  expect([read, faults.map(({ code }) => code)]).toEqual([1, ['missing-file']])
})

/** A small disk of its own; a machine that gives none skips the test. */
function smallDisk(): string | undefined {
  const disk = join(folder, 'disk')
  mkdirSync(disk)
  return spawnSync('mount', ['-t', 'tmpfs', '-o', 'size=700k', 'tmpfs', disk]).status === 0 ? disk : undefined
}

describe('a full disk', () => {
  let disk: string | undefined
  beforeAll(() => {
    disk = smallDisk()
  })
  afterAll(() => {
    if (disk) spawnSync('umount', [disk])
  })

  test('is said in one sentence, and what was written before is kept', async ({ skip }) => {
    if (!disk) skip('this user may not mount a small disk')
    const where = join(disk!, 'full.db')
    const { code, err } = batch(where)
    expect([code, err]).toEqual([2, expect.stringMatching(/^combscribe: [^\n]*the disk [^\n]*is kept[^\n]*\.\n$/)])
    const kept = (await contentOf(where))[0] as [{ path: string; record: unknown }][]
    expect(kept.length).toBeGreaterThan(0)
    // Room is made: the same logbook on a larger disk goes on.
    expect(spawnSync('mount', ['-o', 'remount,size=20m', disk!]).status).toBe(0)
    expect(batch(where).out).toMatch(new RegExp(`^${NOTES - kept.length} notes? read`))
    const whole = join(folder, 'roomy.db')
    batch(whole)
    expect(await contentOf(where)).toEqual(await contentOf(whole))
  }, 300_000)
})
