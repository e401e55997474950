import { createInterface } from 'node:readline'
import { CombscribeError } from '../../errors.ts'
import type { Answer } from '../../live/answer.ts'
import { createVisit } from '../../live/visit.ts'
import { createStream, type StreamResult } from '../../transcript/stream.ts'
import { readYard } from '../files.ts'
import { type KeepFile, keepFile } from '../keep-file.ts'
import { dayOption, noFiles, readOptions } from '../options.ts'
import { speaker } from '../speaker.ts'
import type { Terminal } from '../terminal.ts'

/** `combscribe listen`: utterances on standard input, each answered as it comes. */
export async function run(args: readonly string[], terminal: Terminal): Promise<number> {
  const { values, positionals } = readOptions('listen', args, {
    date: { type: 'string' },
    yard: { type: 'string' },
    say: { type: 'string' },
    to: { type: 'string' },
  })
  noFiles('listen', positionals)
  const date = values.date === undefined ? {} : { date: dayOption('listen', values.date) }
  const yard = await readYard(values.yard, terminal)
  const visit = createVisit({ name: 'live', ...date, ...(yard && { yard }) })
  const speech = speaker(values.say, terminal)
  const stream = createStream('standard input')
  let code = 0
  const complain = (error: unknown): void => {
    if (!(error instanceof CombscribeError)) throw error
    terminal.err(`combscribe: listen: ${error.message}\n`)
    code = 1
  }
  let keep: KeepFile | null = values.to === undefined ? null : keepFile(values.to)
  const kept = (): void => {
    try {
      keep?.add(visit.kept())
    } catch (error) {
      // the visit goes on: what is said is still answered
      keep = null
      complain(error)
    }
  }
  kept()

  /** The keeper has asked for the summary, and said nothing since. */
  let isOver = false
  const answer = ({ lines, alarms, isCommand }: Answer): void => {
    isOver = isCommand?.kind === 'finish'
    const said = lines.length > 0 ? lines : ['noted']
    terminal.out(`${said.join('\n')}\n`)
    speech.say(said.join('. '), alarms.length > 0 || isCommand !== null)
  }
  const take = (result: StreamResult): void => {
    // what may still change is not answered: the voice would lag behind it
    if (result.kind === 'partial') return
    const { kind, text, ...how } = result
    const told = kind === 'final' ? visit.hear(text, how) : visit.revise(text, how)
    kept()
    // a recogniser that only puts in capitals and stops has said nothing new
    if (kind === 'final' || told.lines.length > 0) answer(told)
  }

  const lines = createInterface({ input: process.stdin, crlfDelay: Number.POSITIVE_INFINITY })
  // the first Ctrl-C ends the visit, with its summary; a second one ends the program as it is
  process.once('SIGINT', () => {
    lines.close()
    process.stdin.destroy()
  })
  for await (const line of lines) {
    try {
      for (const result of stream.take(line)) take(result)
    } catch (error) {
      complain(error)
    }
    // what was put off is done while nobody speaks, a little at a time
    if (process.stdin.readableLength === 0) await caughtUp()
  }
  if (!isOver) {
    const closing = visit.closing()
    terminal.out(`${closing.join('\n')}\n`)
    speech.say(closing.join('. '), true)
  }
  keep?.close()
  await speech.done()
  return code

  /** In slices that end as soon as more is said. */
  async function caughtUp(): Promise<void> {
    while (!visit.catchUp(5)) {
      await new Promise((resolve) => setImmediate(resolve))
      if (process.stdin.readableLength > 0) return
    }
  }
}
