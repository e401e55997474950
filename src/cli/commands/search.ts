import { clean } from '../../report/clean.ts'
import { logbookOption, openExisting } from '../logbooks.ts'
import { readOptions, usage } from '../options.ts'
import type { Terminal } from '../terminal.ts'

/** `combscribe search`: notes in which all the words were said, latest first. */
export async function run(args: readonly string[], terminal: Terminal): Promise<number> {
  const { values, positionals } = readOptions('search', args, logbookOption)
  const words = positionals.flatMap((word) => word.split(/\s+/)).filter(Boolean)
  if (words.length === 0) throw usage('search', 'no word was given')
  const book = await openExisting(values.logbook)
  try {
    const found = await book.search(words)
    for (const { date, path, excerpt } of found) {
      terminal.out(`${date}  ${clean(path)}\n    ${clean(excerpt.replace(/\s+/g, ' '))}\n`)
    }
    if (found.length === 0) terminal.out('No note has these words.\n')
  } finally {
    await book.close()
  }
  return 0
}
