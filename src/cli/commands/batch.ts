import { access, stat } from 'node:fs/promises'
import { basename } from 'node:path'
import { CombscribeError } from '../../errors.ts'
import type { Logbook } from '../../logbook/logbook.ts'
import { placedReadings } from '../../record/schema.ts'
import { clean, paints } from '../../report/style.ts'
import { counted } from '../../report/words.ts'
import { judge } from '../../rules/index.ts'
import { readerHints } from '../../yard.ts'
import { nearLabels, type Written, wanting } from '../batch-summary.ts'
import { bringCorrections } from '../corrections-file.ts'
import { fileFault, readBytes, readYard } from '../files.ts'
import { ofInput } from '../inputs.ts'
import { logbookOption, openBook } from '../logbooks.ts'
import { hashOf, notesIn } from '../notes-folder.ts'
import { readOptions, usage } from '../options.ts'
import { openProgress } from '../progress.ts'
import { type NoteFile, noteForLogbook } from '../read-for-logbook.ts'
import type { Terminal } from '../terminal.ts'

/** `combscribe batch`: every new or changed note of a folder into the logbook. */
export async function run(args: readonly string[], terminal: Terminal): Promise<number> {
  const { values, positionals } = readOptions('batch', args, { ...logbookOption, yard: { type: 'string' } })
  const [folder, second] = positionals
  if (folder === undefined) throw usage('batch', 'no folder was named')
  if (second !== undefined) throw usage('batch', `takes one folder, and "${second}" was given too`)
  const yard = await readYard(values.yard, terminal)
  const hints = yard && readerHints(yard)
  const paths = await notesIn(folder)
  const book = await openBook(values.logbook)
  const progress = openProgress(paths.length)
  const dates: string[] = []
  const written: Written[] = []
  let [words, doubtful, code, same] = [0, 0, 0, 0]
  try {
    const settled = new Set([...(await labelsOf(book)), ...(yard?.hives ?? []).map(({ label }) => label)])
    const known = await knownNotes(book, terminal)
    for (const path of paths) {
      try {
        const file = await fileOf(path, terminal)
        if (await known.has(file)) {
          same++
          await bringCorrections(book, path)
        } else {
          const note = noteForLogbook(file, hints)
          const id = await book.write(note)
          known.add(file)
          await bringCorrections(book, path)
          written.push({ id, path, date: note.date, hives: note.record.hives.map(({ hive }) => hive) })
          const unsure = placedReadings(note.record).filter(({ reading }) => reading.flag !== 'sure').length
          words += note.text.split(/\s+/).length
          doubtful += unsure
          dates.push(
            `  ${note.date}  ${clean(basename(path))} (${note.dateFrom}), ${counted(unsure, 'value')} to check`,
          )
        }
      } catch (error) {
        if (!(error instanceof CombscribeError) || !ofInput(error)) throw error
        terminal.err(`combscribe: ${error.message}\n`)
        code = 1
      }
      progress.step(words, doubtful)
    }
    const judged = await book.judgeWaiting((record, history) => judge(record, history, yard))
    progress.end()

    const paint = paints(terminal.style)
    const lines = [`${counted(written.length, 'note')} read (${words} words), ${same} unchanged, ${judged} judged.`]
    lines.push(...dates.slice(-12))
    if (dates.length > 12) lines.push(`  and ${dates.length - 12} more before these`)
    const { urgent, questions } = await wanting(book, written)
    section(lines, paint.heading('Urgent'), urgent)
    section(lines, paint.heading('Needs an answer'), questions)
    section(lines, paint.heading('Is it the same hive?'), nearLabels(await labelsOf(book), settled))
    terminal.out(`${lines.join('\n')}\n`)
    return code
  } finally {
    progress.end()
    await book.close()
  }
}

const labelsOf = async (book: Logbook): Promise<string[]> => (await book.hives()).map(({ hive }) => hive)

async function fileOf(path: string, terminal: Terminal): Promise<NoteFile> {
  const [bytes, { mtime }] = await Promise.all([readBytes(path, terminal), stat(path)]).catch((error) => {
    throw error instanceof CombscribeError ? error : fileFault(error, path)
  })
  return { path, bytes, hash: hashOf(bytes), modified: mtime }
}

interface Known {
  /**
   * Whether a file needs no reading: the logbook has it as it is, has it under another name (then it is renamed there), or
   * it is a copy of one that is still in its place (then that is said).
   */
  has(file: NoteFile): Promise<boolean>
  add(file: NoteFile): void
}

async function knownNotes(book: Logbook, terminal: Terminal): Promise<Known> {
  const hashes = await book.known()
  const pathOf = new Map([...hashes].map(([path, hash]) => [hash, path]))
  return {
    async has({ path, hash }) {
      if (hashes.get(path) === hash) return true
      const twin = pathOf.get(hash)
      if (twin === undefined || twin === path || hashes.has(path)) return false
      if (await isThere(twin)) terminal.err(`combscribe: ${path}: the same as ${twin}; left out.\n`)
      else await book.rename(twin, path)
      return true
    },
    add({ path, hash }) {
      hashes.set(path, hash)
      pathOf.set(hash, path)
    },
  }
}

function section(lines: string[], title: string, entries: readonly string[]): void {
  if (entries.length === 0) return
  lines.push('', title, ...entries.slice(0, 20))
  if (entries.length > 20) lines.push(`  and ${entries.length - 20} more`)
}

const isThere = (path: string): Promise<boolean> =>
  access(path).then(
    () => true,
    () => false,
  )
