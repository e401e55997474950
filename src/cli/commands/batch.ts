import { setTimeout as sleep } from 'node:timers/promises'
import type { CombscribeError } from '../../errors.ts'
import type { Logbook } from '../../logbook/logbook.ts'
import { counted } from '../../report/words.ts'
import type { Yard } from '../../yard.ts'
import { openCrew } from '../batch/crew.ts'
import { notesIn, openFolder } from '../batch/folder.ts'
import { isShown, openProgress } from '../batch/progress.ts'
import { nearLabels, Summary } from '../batch/summary.ts'
import { type Tools, takeIn } from '../batch/take-in.ts'
import { type Watched, watchFolder } from '../batch/watch.ts'
import { readYard } from '../files.ts'
import { logbookOption, openBook } from '../logbooks.ts'
import { coresOption, readOptions, usage } from '../options.ts'
import type { Terminal } from '../terminal.ts'
import { judgedBy, readBy } from '../versions.ts'

/** `combscribe batch`: every new or changed note of a folder into the logbook; with `--watch`, those to come too. */
export async function run(args: readonly string[], terminal: Terminal): Promise<number> {
  const { values, positionals } = readOptions('batch', args, {
    ...logbookOption,
    yard: { type: 'string' },
    cores: { type: 'string' },
    watch: { type: 'boolean', default: false },
  })
  const [folder, second] = positionals
  if (folder === undefined) throw usage('batch', 'no folder was named')
  if (second !== undefined) throw usage('batch', `takes one folder, and "${second}" was given too`)
  const cores = coresOption('batch', values.cores)
  const yard = await readYard(values.yard, terminal)
  const root = await openFolder(folder)
  const book = await openBook(values.logbook)
  const crew = openCrew(cores, yard)
  let shared: Tools['shared']
  let watched: Watched | undefined
  let [code, stopped] = [0, false]
  const fault = (error: CombscribeError) => {
    terminal.err(`combscribe: ${error.message}\n`)
    code = 1
  }
  const stop = () => {
    stopped = true
    void watched?.close()
  }
  try {
    if (book.isShared) {
      // with the driver of PostgreSQL, which a logbook in a file does without
      const { openSharedWork } = await import('../batch/shared-work.ts')
      shared = await openSharedWork(values.logbook, root)
    }
    const tools = { book, crew, shared, terminal }
    if (values.watch) {
      // Once each: a second time the system ends the program at once, and nothing is lost then either.
      for (const signal of ['SIGINT', 'SIGTERM'] as const) process.once(signal, stop)
      watched = await watchFolder(root, (message) => terminal.err(`combscribe: ${root}: ${message}.\n`))
    }
    const total = isShown() ? await count(notesIn(root)) : 0
    await oneRun(
      until(() => stopped, notesIn(root, fault)),
      total,
      tools,
      yard,
      fault,
    )
    if (watched && !stopped) {
      terminal.out(`Watching ${root}; Ctrl-C ends it.\n`)
      for await (const paths of watched.changed())
        await oneRun(
          until(() => stopped, paths),
          paths.length,
          tools,
          yard,
          fault,
        )
    }
    if (stopped) terminal.out('Ended; the next run goes on from here.\n')
    return code
  } finally {
    for (const signal of ['SIGINT', 'SIGTERM'] as const) process.removeListener(signal, stop)
    await watched?.close()
    await crew.close()
    await shared?.close()
    await book.close()
  }
}

/** Reads, judges and sums up. */
async function oneRun(
  paths: AsyncIterable<string>,
  total: number,
  tools: Tools,
  yard: Yard | undefined,
  fault: (error: CombscribeError) => void,
): Promise<void> {
  const { book, crew, shared, terminal } = tools
  const settled = new Set([...(await labelsOf(book)), ...(yard?.hives ?? []).map(({ label }) => label)])
  const progress = openProgress()
  const summary = new Summary()
  const step = () => progress.step(summary.words, summary.doubtful)
  try {
    progress.reading(total)
    await takeIn(paths, tools, {
      read(note) {
        summary.read(note)
        step()
      },
      same() {
        summary.same++
        step()
      },
      fault(error) {
        fault(error)
        step()
      },
    })
    const waiting = await book.waiting()
    await crew.expect(waiting)
    progress.judging(waiting)
    do {
      await book.judgeBlocks(crew.judge, judgedBy, (note, result) => {
        summary.judged(note, result)
        step()
      })
      // Others may be judging the rest; what one that died had in hand is free again.
    } while (shared && (await book.waiting()) > 0 && (await sleep(200, true)))
  } finally {
    progress.end()
  }
  terminal.out(summary.text(terminal.style, nearLabels(await labelsOf(book), settled)))
  const older = await book.notReadBy(readBy)
  if (older > 0) terminal.out(`\n${counted(older, 'note')} read by another grammar: combscribe reread.\n`)
}

const labelsOf = async (book: Logbook): Promise<string[]> => (await book.hives()).map(({ hive }) => hive)

async function* until<T>(isOver: () => boolean, items: AsyncIterable<T> | Iterable<T>): AsyncGenerator<T> {
  for await (const item of items) {
    if (isOver()) return
    yield item
  }
}

async function count(items: AsyncIterable<unknown>): Promise<number> {
  let total = 0
  for await (const _ of items) total++
  return total
}
