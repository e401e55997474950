import { access, stat } from 'node:fs/promises'
import { CombscribeError } from '../../errors.ts'
import type { Logbook } from '../../logbook/logbook.ts'
import { bringCorrections } from '../corrections-file.ts'
import { fileFault, readBytes } from '../files.ts'
import { ofInput } from '../inputs.ts'
import type { Terminal } from '../terminal.ts'
import { eachAtOnce, inBlocks, lookAhead } from './at-once.ts'
import { type Crew, few } from './crew.ts'
import { hashOf } from './folder.ts'
import type { NoteFile } from './read-note.ts'
import type { SharedWork } from './shared-work.ts'
import type { ReadNote } from './task.ts'

/** What is told of a run while it goes on. */
export interface Watcher {
  read(note: ReadNote): void
  /** The logbook has it already. */
  same(): void
  /** It cannot be read; the others are. */
  fault(error: CombscribeError): void
}

/** Files that the logbook is asked about at once. */
const asked = 200

/** With whom and what a run works. */
export interface Tools {
  readonly book: Logbook
  readonly crew: Crew
  /** Where the work is shared with other programs. */
  readonly shared?: SharedWork | undefined
  readonly terminal: Terminal
}

/** Reads what is new or changed among `paths` into the logbook, each note in a transaction of its own. */
export async function takeIn(
  paths: AsyncIterable<string>,
  { book, crew, shared, terminal }: Tools,
  watcher: Watcher,
): Promise<void> {
  /** Notes in hand, by their bytes: the logbook does not know them yet. */
  const inHand = new Map<string, string>()

  /** Whether the logbook needs no reading of a file: it has it, has it under another name, or it is a copy. */
  async function isKnown({ path, hash }: NoteFile, before: string | undefined): Promise<boolean> {
    if (before !== undefined) return before === hash
    const twin = inHand.get(hash) ?? (await book.withHash(hash))
    if (twin === undefined || twin === path) return false
    if (inHand.has(hash) || (await isThere(twin))) terminal.err(`combscribe: ${path}: the same as ${twin}; left out.\n`)
    else await book.rename(twin, path)
    return true
  }

  const guarded = async (path: string, work: () => Promise<void>): Promise<void> => {
    try {
      await work()
    } catch (error) {
      if (!(error instanceof CombscribeError)) throw new Error(`reading ${path}: ${said(error)}`)
      if (!ofInput(error)) throw error
      watcher.fault(error)
    }
  }

  async function* fresh(): AsyncGenerator<NoteFile> {
    for await (const block of inBlocks(paths, asked)) {
      const known = await book.known(block)
      for (const path of block) {
        let toRead: NoteFile | undefined
        await guarded(path, async () => {
          const file = await fileOf(path, terminal)
          if (await isKnown(file, known.get(path))) {
            await bringCorrections(book, path)
            watcher.same()
          } else toRead = file
        })
        if (!toRead) continue
        inHand.set(toRead.hash, path)
        yield toRead
      }
    }
  }

  const read = async (file: NoteFile): Promise<void> => {
    const note = await crew.read(file)
    await book.writeRows(note.rows)
    await bringCorrections(book, file.path)
    watcher.read(note)
  }

  if (!shared) {
    const [first, files] = await lookAhead(fresh(), few + 1)
    await crew.expect(first.length)
    await eachAtOnce(files, crew.atOnce, (file) =>
      guarded(file.path, () => read(file)).finally(() => inHand.delete(file.hash)),
    )
    return
  }
  for await (const block of inBlocks(withoutBytes(fresh()), asked)) {
    await shared.offer(block)
    for (const { hash } of block) inHand.delete(hash)
  }
  await crew.expect(await shared.left())
  await eachAtOnce(shared.take(crew.atOnce), crew.atOnce, async (job) => {
    await guarded(job.path, async () => {
      const file = await fileOf(job.path, terminal)
      // Another program may have read it since it was put on the list.
      const known = await book.known([job.path])
      if (!(await isKnown(file, known.get(job.path)))) await read(file)
    })
    await shared.done(job)
  })
}

async function fileOf(path: string, terminal: Terminal): Promise<NoteFile> {
  const [bytes, { mtime }] = await Promise.all([readBytes(path, terminal), stat(path)]).catch((error) => {
    throw error instanceof CombscribeError ? error : fileFault(error, path)
  })
  return { path, bytes, hash: hashOf(bytes), modified: mtime }
}

async function* withoutBytes(files: AsyncIterable<NoteFile>): AsyncGenerator<Pick<NoteFile, 'path' | 'hash'>> {
  for await (const { path, hash } of files) yield { path, hash }
}

const isThere = (path: string): Promise<boolean> =>
  access(path).then(
    () => true,
    () => false,
  )

const said = (error: unknown) => (error instanceof Error ? error.message : String(error))
