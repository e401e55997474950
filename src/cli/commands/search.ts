import { foundWord } from '../../logbook/logbook.ts'
import { clean } from '../../report/clean.ts'
import { paints } from '../../report/style.ts'
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
    const notes = await book.search(words)
    const { colour } = terminal.style
    const { heading } = paints(terminal.style)
    const shown = (excerpt: string) =>
      clean(excerpt.replace(/\s+/g, ' ')).replace(found, (_, word: string) => (colour ? heading(word) : `*${word}*`))
    for (const { date, path, excerpt } of notes) {
      terminal.out(`${date}  ${clean(path)}\n    ${shown(excerpt)}\n`)
    }
    if (notes.length === 0) terminal.out('No note has these words.\n')
  } finally {
    await book.close()
  }
  return 0
}

const found = new RegExp(`${foundWord[0]}(.*?)${foundWord[1]}`, 'g')
