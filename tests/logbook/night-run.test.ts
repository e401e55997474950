import { spawn } from 'node:child_process'
import { appendFileSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { setTimeout as sleep } from 'node:timers/promises'
import pg from 'pg'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { cli, combscribe } from '../command.ts'
import { writeNotes } from '../generate/write.ts'
import { contentOf } from './content.ts'
import { hasServer, type Server, startServer } from './server.ts'

let folder: string
let notes: string
let server: Server | undefined
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'combscribe-night-'))
  notes = join(folder, 'notes')
  writeNotes(notes, 40)
  if (hasServer) server = startServer()
}, 60_000)
afterAll(() => {
  server?.stop()
  rmSync(folder, { recursive: true, force: true })
})

/** The command as a process of its own, and what it has printed so far. */
function started(where: string, from = notes, ...more: string[]) {
  const child = spawn(process.execPath, [cli, 'batch', from, '--logbook', where, '--cores', '1', ...more], {
    env: { PATH: process.env.PATH, NO_COLOR: '1' },
  })
  const said = { out: '', err: '' }
  child.stdout.on('data', (part) => (said.out += part))
  child.stderr.on('data', (part) => (said.err += part))
  const ended = new Promise<number | null>((resolve) => child.on('close', resolve))
  return { child, said, ended }
}

async function until(isSo: () => boolean | Promise<boolean>): Promise<void> {
  while (!(await isSo())) await sleep(50)
}

/** Notes that are in a PostgreSQL logbook; 0 before its tables are there. */
async function written(address: string): Promise<number> {
  const client = new pg.Client(address)
  await client.connect()
  try {
    return Number((await client.query('select count(*) from notes')).rows[0].count)
  } catch {
    return 0
  } finally {
    await client.end()
  }
}

const readBy = (out: string) => Number(/^(\d+) notes? read/m.exec(out)?.[1])

describe('--watch', () => {
  test('reads what comes when it has stopped growing, and ends cleanly', async () => {
    const own = join(folder, 'watched')
    mkdirSync(own)
    writeFileSync(join(own, '2026-05-01.txt'), 'Hive one. Calm. Six frames of brood.')
    const where = join(folder, 'watched.db')
    const { child, said, ended } = started(where, own, '--watch')
    await until(() => said.out.includes('Watching'))
    expect(readBy(said.out)).toBe(1)
    const growing = join(own, '2026-05-10.txt')
    writeFileSync(growing, 'Hive two. ')
    for (const part of ['Four frames ', 'of brood. ', 'Saw the queen.']) {
      await sleep(700)
      appendFileSync(growing, part)
    }
    mkdirSync(join(own, 'later'))
    writeFileSync(join(own, 'later', 'yard.json'), '{}')
    await until(() => said.out.split('notes read').length + said.out.split('note read').length > 3)
    child.kill('SIGINT')
    expect(await ended).toBe(0)
    expect(said.out).toMatch(/\n1 note read \(9 words\), 0 unchanged, 1 judged\.\n {2}2026-05-10/)
    expect(said.out).toMatch(/\nEnded; the next run goes on from here\.\n$/)
    expect(said.err).toBe('')
    expect(combscribe(['batch', own, '--logbook', where]).out).toBe('0 notes read (0 words), 2 unchanged, 0 judged.\n')
  }, 120_000)
})

describe.skipIf(!hasServer)('several programs on one PostgreSQL', () => {
  test('read each note once', async () => {
    const where = server!.address('together')
    const runs = [started(where), started(where), started(where)]
    expect(await Promise.all(runs.map(({ ended }) => ended))).toEqual([0, 0, 0])
    expect(runs.map(({ said }) => said.err)).toEqual(['', '', ''])
    expect(runs.map(({ said }) => readBy(said.out)).reduce((a, b) => a + b)).toBe(40)
    const alone = join(folder, 'alone.db')
    combscribe(['batch', notes, '--logbook', alone])
    expect(await contentOf(where)).toEqual(await contentOf(alone))
  }, 300_000)

  test('what one has in hand that is killed is read by another', async () => {
    const where = server!.address('killed')
    const [first, second] = [started(where), started(where)]
    await until(async () => (await written(where)) >= 8)
    first!.child.kill('SIGKILL')
    expect(await first!.ended).toBe(null)
    const left = 40 - (await written(where))
    expect(left).toBeGreaterThan(0)
    expect(await second!.ended).toBe(0)
    expect(second!.said.err).toBe('')
    expect(await written(where)).toBe(40)
    expect(combscribe(['batch', notes, '--logbook', where]).out).toBe(
      '0 notes read (0 words), 40 unchanged, 0 judged.\n',
    )
    const alone = join(folder, 'undisturbed.db')
    combscribe(['batch', notes, '--logbook', alone])
    expect(await contentOf(where)).toEqual(await contentOf(alone))
  }, 300_000)

  test('two that are killed twenty times in all: no note lost or doubled', async () => {
    const alone = join(folder, 'never-killed.db')
    const start = Date.now()
    combscribe(['batch', notes, '--logbook', alone, '--cores', '1'])
    const took = Date.now() - start
    const undisturbed = await contentOf(alone)
    let killed = 0
    for (let round = 0; killed < 20; round++) {
      const where = server!.address(`often-${round}`)
      // Killed at a moment of starting, reading or judging, and started again at once, until a run comes to its end.
      const worker = async () => {
        for (;;) {
          const { child, said, ended } = started(where)
          const moment = took * (0.1 + 0.5 * Math.random())
          const timer = killed < 20 ? setTimeout(() => child.kill('SIGKILL'), moment) : undefined
          const code = await ended
          clearTimeout(timer)
          expect(said.err).toBe('')
          if (code === 0) return
          expect(code).toBe(null)
          killed++
        }
      }
      await Promise.all([worker(), worker()])
      expect(await contentOf(where)).toEqual(undisturbed)
    }
  }, 600_000)

  test('a server that goes away in the middle: one sentence, and the next run goes on', async () => {
    const where = server!.address('away')
    const run = started(where)
    await until(async () => (await written(where)) >= 5)
    server!.halt()
    expect(await run.ended).toBe(2)
    expect(run.said.err).toMatch(/^combscribe: [^\n]+\.\n$/)
    expect(run.said.err).toMatch(/server|connection/)
    server!.resume()
    const kept = await written(where)
    expect(kept).toBeGreaterThanOrEqual(5)
    expect(readBy(combscribe(['batch', notes, '--logbook', where]).out)).toBe(40 - kept)
    const alone = join(folder, 'stayed.db')
    combscribe(['batch', notes, '--logbook', alone])
    expect(await contentOf(where)).toEqual(await contentOf(alone))
  }, 300_000)
})
