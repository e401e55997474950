import { createInterface } from 'node:readline'
import { createVisit } from '../../live/visit.ts'
import { readYard } from '../files.ts'
import { dayOption, noFiles, readOptions } from '../options.ts'
import { speaker } from '../speaker.ts'
import type { Terminal } from '../terminal.ts'

/** `combscribe listen`: utterances on standard input, each answered as it comes. */
export async function run(args: readonly string[], terminal: Terminal): Promise<number> {
  const { values, positionals } = readOptions('listen', args, {
    date: { type: 'string' },
    yard: { type: 'string' },
    say: { type: 'string' },
  })
  noFiles('listen', positionals)
  const date = values.date === undefined ? {} : { date: dayOption('listen', values.date) }
  const yard = await readYard(values.yard, terminal)
  const visit = createVisit({ name: 'live', ...date, ...(yard && { yard }) })
  const speech = speaker(values.say, terminal)
  for await (const line of createInterface({ input: process.stdin, crlfDelay: Number.POSITIVE_INFINITY })) {
    const words = finalWords(line)
    if (words === undefined)
      terminal.err(
        'combscribe: listen: a line of JSON without a "text" was passed over; give one {"text": …} a line.\n',
      )
    if (words === null || words === undefined) continue
    const { lines } = visit.hear(words)
    const said = lines.length > 0 ? lines : ['noted']
    terminal.out(`${said.join('\n')}\n`)
    speech.say(said.join('. '))
  }
  await speech.done()
  return 0
}

/**
 * The words of one line: as they stand, or the `text` of a streaming recogniser's JSON. Null for partial results, which a
 * later line replaces, and for empty lines; undefined for JSON whose words were not found, which must not go unsaid.
 */
function finalWords(line: string): string | null | undefined {
  const trimmed = line.trim()
  if (!trimmed.startsWith('{')) return trimmed === '' ? null : trimmed
  try {
    const { text, partial, final, is_final: isFinal } = JSON.parse(trimmed) as Record<string, unknown>
    if (partial !== undefined || final === false || isFinal === false) return null
    return typeof text === 'string' ? text.trim() || null : undefined
  } catch {
    return trimmed
  }
}
