import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { setTimeout as sleep } from 'node:timers/promises'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { inOrder, lookAhead } from '../../src/cli/batch/at-once.ts'
import { combscribe } from '../command.ts'
import { writeNotes } from '../generate/write.ts'
import { contentOf } from './content.ts'

let folder: string
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'combscribe-threads-'))
})
afterAll(() => rmSync(folder, { recursive: true, force: true }))

async function* numbers(count: number, taken: number[] = []) {
  for (let i = 0; i < count; i++) {
    taken.push(i)
    yield i
  }
}

async function all<T>(items: AsyncIterable<T>): Promise<T[]> {
  const out: T[] = []
  for await (const item of items) out.push(item)
  return out
}

test('results come in the order of the items, however long each takes, and only so many are in hand', async () => {
  let [inHand, most] = [0, 0]
  const work = async (item: number) => {
    most = Math.max(most, ++inHand)
    await sleep(item % 3 === 0 ? 15 : 1)
    inHand--
    return item * 10
  }
  expect(await all(inOrder(numbers(8), 3, work))).toEqual([0, 10, 20, 30, 40, 50, 60, 70])
  expect(most).toBe(3)
})

test('a failure comes in its turn', async () => {
  const seen: number[] = []
  const work = async (item: number) => {
    if (item === 2) throw new Error('two')
    await sleep(5)
    return item
  }
  const run = async () => {
    for await (const result of inOrder(numbers(8), 4, work)) seen.push(result)
  }
  await expect(run()).rejects.toThrow('two')
  expect(seen).toEqual([0, 1])
})

test('looking ahead takes no more than it says, and loses none', async () => {
  const taken: number[] = []
  const [first, rest] = await lookAhead(numbers(5, taken), 3)
  expect([first, taken]).toEqual([
    [0, 1, 2],
    [0, 1, 2],
  ])
  expect(await all(rest)).toEqual([0, 1, 2, 3, 4])
  const [few, same] = await lookAhead(numbers(2), 3)
  expect([few, await all(same)]).toEqual([
    [0, 1],
    [0, 1],
  ])
})

test('two threads read, judge and read again as one does', async () => {
  const [notes, one, two] = ['notes', 'one.db', 'two.db'].map((name) => join(folder, name)) as [string, string, string]
  writeNotes(notes, 16)
  const batch = (where: string, cores: string, ...yard: string[]) =>
    combscribe(['batch', notes, '--logbook', where, '--cores', cores, ...yard])
  expect(batch(one, '1').out).toMatch(/^16 notes read/)
  expect(batch(two, '2').out).toMatch(/^16 notes read/)
  const before = await contentOf(one)
  expect(await contentOf(two)).toEqual(before)
  // A yard file makes other readings of some notes.
  const yard = ['--yard', 'fixtures/notes/yard.json']
  const again = (where: string, cores: string) => combscribe(['reread', '--logbook', where, '--cores', cores, ...yard])
  const said = again(one, '1')
  expect([said.code, said.err]).toEqual([0, ''])
  expect(said.out).toMatch(/(^|\n)16 notes read again, \d+ with other values\.\n$/)
  expect(again(two, '2')).toEqual(said)
  expect(await contentOf(two)).toEqual(await contentOf(one))
}, 120_000)
