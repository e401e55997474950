import type { Correction } from '../../corrections/correction.ts'
import { readNote } from '../../read-note.ts'
import type { InspectionRecord } from '../../record/schema.ts'
import { account } from '../../report/account.ts'
import { readings, recordJson } from '../../report/json.ts'
import { table } from '../../report/table.ts'
import { why } from '../../report/why.ts'
import type { Transcript } from '../../transcript/transcript.ts'
import { readerHints } from '../../yard.ts'
import { corrected, correctionsBeside } from '../corrections-file.ts'
import { dayGiven } from '../days.ts'
import { noteName, readBytes, readYard, shownPath } from '../files.ts'
import { eachInput } from '../inputs.ts'
import { openNote } from '../open-note.ts'
import { dayOption, oneOf, readOptions } from '../options.ts'
import { isAudio, transcriptOf } from '../recogniser.ts'
import type { Terminal } from '../terminal.ts'

const formats = ['table', 'report', 'account', 'record', 'readings'] as const

/** `combscribe read`: notes in, records or reports out. */
export async function run(args: readonly string[], terminal: Terminal): Promise<number> {
  const { values, positionals } = readOptions('read', args, {
    as: { type: 'string', default: 'table' },
    date: { type: 'string' },
    yard: { type: 'string' },
    why: { type: 'string' },
  })
  const as = oneOf('read', 'as', values.as, formats)
  const asked = values.date === undefined ? undefined : dayOption('read', values.date)
  const yard = await readYard(values.yard, terminal)
  const hints = yard && { yard: readerHints(yard) }

  const beside = new Map<string, Correction[]>()
  const bytesOf = async (path: string): Promise<Uint8Array> => {
    beside.set(path, await correctionsBeside(path))
    return isAudio(path) ? transcriptOf(path, yard) : readBytes(path, terminal)
  }
  const readOne = (bytes: Uint8Array, path: string): Read => {
    const transcript = openNote(bytes, path)
    const name = noteName(path)
    for (const { message } of transcript.notices ?? []) terminal.err(`combscribe: ${shownPath(path)}: ${message}\n`)
    const say = (sentence: string) => terminal.err(`combscribe: ${shownPath(path)}: ${sentence}\n`)
    const date = asked ?? dayGiven(name, transcript.recordedAt)?.day
    const read = readNote(transcript, { name, ...(date !== undefined && { date }), ...hints })
    return { transcript, record: corrected(read, beside.get(path) ?? [], transcript.text, say) }
  }
  const { done, code } = await eachInput('read', positionals, terminal, readOne, bytesOf)

  if (values.why !== undefined) print(done, ({ record }) => why(record, values.why!, terminal.style), terminal)
  else if (as === 'record') {
    if (done.length > 0) terminal.out(recordJson(done.map(({ record }) => record)))
  } else if (as === 'readings') for (const { record } of done) terminal.out(readings(record))
  else if (as === 'account')
    print(done, ({ record, transcript }) => account(record, transcript.text, terminal.style), terminal)
  else if (as === 'table') print(done, ({ record }) => table(record, terminal.style), terminal)
  else {
    const [{ judge }, { report }] = await Promise.all([
      import('../../rules/index.ts'),
      import('../../report/report.ts'),
    ])
    print(done, ({ record }) => report(record, judge(record, undefined, yard), terminal.style), terminal)
  }
  return code
}

type Read = { transcript: Transcript; record: InspectionRecord }

/** Reports of several notes, a blank line and a rule between two. */
function print(done: readonly Read[], form: (read: Read) => string, terminal: Terminal): void {
  const rule = `\n${'─'.repeat(terminal.style.width)}\n\n`
  for (const [i, read] of done.entries()) terminal.out((i === 0 ? '' : rule) + form(read))
}
