import { spawn } from 'node:child_process'
import { createInterface } from 'node:readline'
import { createReader, grammarFor, utterancesOf } from '../../read.ts'
import { answerLines, lackingLines, type Moment, readBackLines, sayWhere } from '../../report/live.ts'
import { clean } from '../../report/style.ts'
import { judge } from '../../rules/index.ts'
import type { Segment, Transcript } from '../../transcript/transcript.ts'
import { readerHints } from '../../yard.ts'
import { readYard } from '../files.ts'
import { dayOption, noFiles, readOptions } from '../options.ts'
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
  const transcript = growing()
  const hints = yard && readerHints(yard)
  const grammar = grammarFor(hints)
  const reader = createReader(transcript, { name: 'live', ...date, ...(hints && { yard: hints }) })
  const speech = speaker(values.say, terminal)
  let before: Moment | null = null
  const moment = (): Moment => {
    const record = reader.record()
    return { record, findings: judge(record, undefined, yard), place: reader.place() }
  }
  const answer = (lines: readonly string[]) => {
    terminal.out(`${lines.join('\n')}\n`)
    speech.say(lines.join('. '))
  }
  for await (const line of createInterface({ input: process.stdin, crlfDelay: Number.POSITIVE_INFINITY })) {
    const words = finalWords(line)
    if (words === undefined)
      terminal.err(
        'combscribe: listen: a line of JSON without a "text" was passed over; give one {"text": …} a line.\n',
      )
    if (words === null || words === undefined) continue
    const command = commandIn(words)
    if (command) {
      const now = before ?? moment()
      answer(command(now))
      continue
    }
    for (const utterance of utterancesOf(transcript.add(words), grammar)) reader.hear(utterance)
    const now = moment()
    const lines = answerLines(before, now)
    answer(lines.length > 0 ? lines : ['noted'])
    before = now
  }
  await speech.done()
  return 0
}

/** A transcript that grows by one utterance after the other; offsets refer to all that was said. */
function growing(): Transcript & { add(words: string): Transcript } {
  let text = ''
  const segments: Segment[] = []
  return {
    name: 'live',
    format: 'live',
    get text() {
      return text
    },
    segments,
    add(words) {
      const start = text.length
      text += `${words}\n`
      const segment = { start, end: start + words.length }
      segments.push(segment)
      return { name: 'live', format: 'live', text, segments: [segment] }
    },
  }
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

/** Questions to the program itself, in ordinary words. What takes back or moves on is the reader's own matter. */
function commandIn(words: string): ((now: Moment) => string[]) | null {
  const plain = words
    .toLowerCase()
    .replace(/[^a-z' ]+/g, '')
    .trim()
  if (/^(what'?s|what is) (still )?(missing|lacking|left to say)$/.test(plain))
    return (now) => orNone(lackingLines(now), `nothing is lacking for ${sayWhere(now.place)}`)
  if (/^(read|say) (it|that|this) back( to me)?$/.test(plain))
    return (now) => orNone(readBackLines(now), `nothing was said yet of ${sayWhere(now.place)}`)
  if (/^where (are we|am i)$/.test(plain)) return (now) => [sayWhere(now.place)]
  const about = /^what did i say (?:about|of) (?:the |her |its )?([a-z ]+)$/.exec(plain)?.[1]
  return about === undefined
    ? null
    : (now) => orNone(readBackLines(now, about), `nothing was said of ${clean(about)} in ${sayWhere(now.place)}`)
}

const orNone = (lines: string[], none: string): string[] => (lines.length > 0 ? lines : [none])

/** Speaks answers one after the other with any program that takes the text as its last argument. */
function speaker(command: string | undefined, terminal: Terminal): { say(text: string): void; done(): Promise<void> } {
  if (command === undefined) return { say: () => {}, done: async () => {} }
  const [program = '', ...rest] = command.split(/\s+/).filter(Boolean)
  let last: Promise<void> = Promise.resolve()
  let failed = false
  const speak = (text: string) =>
    new Promise<void>((resolve) => {
      const fail = () => {
        if (!failed) terminal.err(`combscribe: listen: "${program}" could not speak; answers are printed only.\n`)
        failed = true
        resolve()
      }
      spawn(program, [...rest, text], { stdio: 'ignore' })
        .on('error', fail)
        .on('exit', (code) => (code === 0 ? resolve() : fail()))
    })
  return {
    say: (text) => {
      last = last.then(() => (failed ? undefined : speak(text)))
    },
    done: () => last,
  }
}
