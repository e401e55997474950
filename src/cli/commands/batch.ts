import { availableParallelism } from 'node:os'
import type { CombscribeError } from '../../errors.ts'
import type { Logbook } from '../../logbook/logbook.ts'
import { openCrew } from '../batch/crew.ts'
import { notesIn, openFolder } from '../batch/folder.ts'
import { isShown, openProgress } from '../batch/progress.ts'
import { nearLabels, Summary } from '../batch/summary.ts'
import { takeIn } from '../batch/take-in.ts'
import { readYard } from '../files.ts'
import { logbookOption, openBook } from '../logbooks.ts'
import { readOptions, usage } from '../options.ts'
import type { Terminal } from '../terminal.ts'

/** `combscribe batch`: every new or changed note of a folder into the logbook. */
export async function run(args: readonly string[], terminal: Terminal): Promise<number> {
  const { values, positionals } = readOptions('batch', args, {
    ...logbookOption,
    yard: { type: 'string' },
    cores: { type: 'string' },
  })
  const [folder, second] = positionals
  if (folder === undefined) throw usage('batch', 'no folder was named')
  if (second !== undefined) throw usage('batch', `takes one folder, and "${second}" was given too`)
  const cores = values.cores === undefined ? availableParallelism() : coresOption(values.cores)
  const yard = await readYard(values.yard, terminal)
  const root = await openFolder(folder)
  const book = await openBook(values.logbook)
  const crew = openCrew(cores, yard)
  const progress = openProgress()
  const summary = new Summary()
  let code = 0
  try {
    const settled = new Set([...(await labelsOf(book)), ...(yard?.hives ?? []).map(({ label }) => label)])
    const fault = (error: CombscribeError) => {
      terminal.err(`combscribe: ${error.message}\n`)
      code = 1
    }
    const step = () => progress.step(summary.words, summary.doubtful)
    progress.reading(isShown() ? await count(notesIn(root)) : 0)
    await takeIn(
      notesIn(root, fault),
      { book, crew, terminal },
      {
        read: (note) => {
          summary.read(note)
          step()
        },
        same: () => {
          summary.same++
          step()
        },
        fault: (error) => {
          fault(error)
          step()
        },
      },
    )
    progress.judging(isShown() ? await book.waiting() : 0)
    await book.judgeBlocks(crew.judge, (note, result) => {
      summary.judged(note, result)
      step()
    })
    progress.end()
    terminal.out(summary.text(terminal.style, nearLabels(await labelsOf(book), settled)))
    return code
  } finally {
    progress.end()
    await crew.close()
    await book.close()
  }
}

function coresOption(given: string): number {
  const cores = Number(given)
  if (!Number.isInteger(cores) || cores < 1 || cores > 256)
    throw usage('batch', `--cores takes a number from 1 to 256, not "${given}"`)
  return cores
}

const labelsOf = async (book: Logbook): Promise<string[]> => (await book.hives()).map(({ hive }) => hive)

async function count(items: AsyncIterable<unknown>): Promise<number> {
  let total = 0
  for await (const _ of items) total++
  return total
}
