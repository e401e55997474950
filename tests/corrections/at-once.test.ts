import { execFile } from 'node:child_process'
import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { promisify } from 'node:util'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { openBook } from '../../src/cli/logbooks.ts'
import { anchorsFor } from '../../src/corrections/answer.ts'
import {
  type Correction,
  correctionLine,
  knownCorrections,
  parseCorrections,
  stamped,
} from '../../src/corrections/correction.ts'
import { placedIn } from '../../src/corrections/placed.ts'
import type { Note } from '../../src/logbook/logbook.ts'
import { combscribe } from '../command.ts'
import { programOf } from '../program.ts'

const folder = mkdtempSync(join(tmpdir(), 'combscribe-at-once-'))
const where = join(folder, 'book.db')
let program: string
const yard = join(folder, 'notes', 'yard.json')

/** A program of its own: confirms one reading after the other of a note, in its file or in a logbook. */
beforeAll(async () => {
  program = await programOf(
    'correct',
    `import { readFileSync } from 'node:fs'
      import { appendCorrections } from './src/cli/corrections-file.ts'
      import { openBook } from './src/cli/logbooks.ts'
      const [list, note, where] = process.argv.slice(2)
      const corrections = JSON.parse(readFileSync(list, 'utf8'))
      const book = where && await openBook(where)
      for (const one of corrections) {
        if (book) await book.correctAll(Number(note), [{ who: one.who, at: one.at, body: one }])
        else await appendCorrections(note, [one])
      }
      await book?.close()`,
  )
  cpSync('fixtures/notes', join(folder, 'notes'), { recursive: true })
  expect(combscribe(['batch', join(folder, 'notes'), '--logbook', where, '--yard', yard]).code).toBe(0)
}, 60_000)
afterAll(() => {
  rmSync(program, { force: true })
  rmSync(folder, { recursive: true, force: true })
})

async function noteOf(name: string): Promise<{ note: Note; text: string }> {
  const book = await openBook(where)
  try {
    for await (const note of book.notes())
      if (note.name === name) return { note, text: (await book.asRead(note.id)).text }
    throw new Error(`${name} is not in the logbook`)
  } finally {
    await book.close()
  }
}

/** Two keepers share the readings of a note: each gives its own half another value. */
async function halves(name: string): Promise<{ id: number; lists: Correction[][] }> {
  const { note, text } = await noteOf(name)
  const all = placedIn(note.record)
  const numbers = all.filter(({ reading }) => typeof reading.value === 'number')
  const lists = ['ann', 'ben'].map((who, k) =>
    numbers
      .filter((_, i) => i % 2 === k)
      .map(({ reading }, i) =>
        stamped(
          { kind: 'value', readings: anchorsFor([reading.id], all, text), value: 30 + i },
          { id: `${who}${i}`, at: '2026-12-30T20:00:00Z', who },
        ),
      ),
  )
  expect(Math.min(...lists.map(({ length }) => length))).toBeGreaterThanOrEqual(3)
  return { id: note.id, lists }
}

const both = (lists: readonly Correction[][], ...args: string[]) =>
  Promise.all(
    lists.map((list, i) => {
      const path = join(folder, `list-${i}.json`)
      writeFileSync(path, JSON.stringify(list))
      return promisify(execFile)(process.execPath, [program, path, ...args])
    }),
  )

test('two programs that correct one logbook at once: all is kept, and the record knows all of it', async () => {
  const { id, lists } = await halves('2026-09-06-paddock')
  await both(lists, String(id), where)
  const book = await openBook(where)
  const kept = await book.corrections(id)
  const { record, date } = (await book.note(id))!
  await book.close()
  expect(
    knownCorrections(kept.map(({ body }) => body))
      .corrections.map((one) => one.id)
      .sort(),
  ).toEqual(
    lists
      .flat()
      .map((one) => one.id)
      .sort(),
  )
  expect(date).toBe('2026-09-06')
  const now = placedIn(record).filter(({ reading }) => reading.how === 'corrected')
  expect(now.length).toBeGreaterThanOrEqual(lists.flat().length)
  // Looked up later, and read again by the program: still as the keepers left it.
  const said = now.find(({ reading }) => reading.field === 'frames.brood')!
  expect(combscribe(['history', said.hive!, '--logbook', where]).out).toContain(String(said.reading.value))
  expect(combscribe(['reread', '--logbook', where, '--yard', yard]).out).toBe(
    '6 notes read again, 0 with other values.\n',
  )
}, 60_000)

test('two programs that correct one note by itself at once: every line is whole', async () => {
  const { lists } = await halves('2026-09-20-paddock')
  const path = join(folder, 'notes', '2026-09-20-paddock.txt')
  await both(lists, path)
  const text = readFileSync(`${path}.corrections.jsonl`, 'utf8')
  expect(
    parseCorrections(text, path)
      .map(({ id }) => id)
      .sort(),
  ).toEqual(
    lists
      .flat()
      .map(({ id }) => id)
      .sort(),
  )
  expect(text).toBe(parseCorrections(text, path).map(correctionLine).join(''))
}, 60_000)

test('what lies beside a note goes into the logbook with the next night run, once', async () => {
  const { note } = await noteOf('2026-09-20-paddock')
  const run = () => combscribe(['batch', join(folder, 'notes'), '--logbook', where, '--yard', yard])
  expect(run().code).toBe(0)
  const { lists } = await halves('2026-09-06-paddock')
  expect(lists.length).toBe(2)
  expect(run().code).toBe(0)
  const book = await openBook(where)
  const kept = await book.corrections(note.id)
  const { record } = (await book.note(note.id))!
  await book.close()
  expect(new Set(kept.map(({ body }) => (body as Correction).id)).size).toBe(kept.length)
  expect(kept.length).toBeGreaterThanOrEqual(6)
  expect(placedIn(record).filter(({ reading }) => reading.how === 'corrected').length).toBe(kept.length)
})
