import { userInfo } from 'node:os'
import { doubtfulIn, questionsFor } from '../../corrections/questions.ts'
import { CombscribeError } from '../../errors.ts'
import type { Logbook } from '../../logbook/logbook.ts'
import { readNote } from '../../read-note.ts'
import { clean } from '../../report/clean.ts'
import { counted } from '../../report/words.ts'
import { judge } from '../../rules/judge.ts'
import { readerHints, type Yard } from '../../yard.ts'
import { correctionsBeside, correctionsPath } from '../corrections-file.ts'
import { dayGiven } from '../days.ts'
import { noteName, readBytes, readYard } from '../files.ts'
import { type Desk, logbookDesk, noteDesk } from '../fix/desk.ts'
import { Apart, settleLabels } from '../fix/labels.ts'
import { type LessonNote, lessonsFrom, teach } from '../fix/lessons.ts'
import { lookScreen } from '../fix/look.ts'
import { playerFor, recordingOf } from '../fix/player.ts'
import { goThrough, type Outcome } from '../fix/session.ts'
import { settleWithdrawals, withoutPeriod } from '../fix/withdrawals.ts'
import { openExisting } from '../logbooks.ts'
import { doubtfulLabels } from '../near-labels.ts'
import { openNote } from '../open-note.ts'
import { dayOption, readOptions, usage } from '../options.ts'
import { isAudio, transcriptOf } from '../recogniser.ts'
import type { Terminal } from '../terminal.ts'
import { judgedBy } from '../versions.ts'

/** `combscribe fix`: goes through the doubtful values of a note, or of a logbook's notes, with the keeper. */
export async function run(args: readonly string[], terminal: Terminal): Promise<number> {
  const { values, positionals } = readOptions('fix', args, {
    logbook: { type: 'string' },
    yard: { type: 'string' },
    date: { type: 'string' },
    who: { type: 'string', default: userName() },
    list: { type: 'boolean', default: false },
  })
  const [path, second] = positionals
  if (second !== undefined) throw usage('fix', `takes one note, and "${second}" was given too`)
  if (path === '-') throw usage('fix', 'asks on standard input, and a note cannot come from there too')
  if ((path === undefined) === (values.logbook === undefined))
    throw usage('fix', 'takes a note or --logbook, one of them')
  if (values.logbook !== undefined && values.date !== undefined)
    throw usage('fix', '--date is for a note by itself; in a logbook press o to put a day right')
  if (!values.list && !(process.stdin.isTTY && process.stdout.isTTY))
    throw new CombscribeError(
      'bad-usage',
      'asks on a terminal, and there is none',
      'fix',
      'use --list to print what it would ask',
    )
  const yard = await readYard(values.yard, terminal)
  const task: Task = { terminal, yard, yardPath: values.yard, list: values.list }
  if (path !== undefined) return fixNote(path, values.who, values.date && dayOption('fix', values.date), task)
  const book = await openExisting(values.logbook!)
  try {
    return await fixLogbook(book, values.who, task)
  } finally {
    await book.close()
  }
}

interface Task {
  readonly terminal: Terminal
  readonly yard: Yard | undefined
  readonly yardPath: string | undefined
  readonly list: boolean
}

async function fixNote(path: string, who: string, asked: string | undefined, task: Task): Promise<number> {
  const { terminal, yard } = task
  const bytes = isAudio(path) ? await transcriptOf(path, yard) : await readBytes(path, terminal)
  const transcript = openNote(bytes, path)
  const name = noteName(path)
  const date = asked || dayGiven(name, transcript.recordedAt)?.day
  const read = readNote(transcript, { name, ...(date && { date }), ...(yard && { yard: readerHints(yard) }) })
  const corrections = await correctionsBeside(path)
  const desk = noteDesk({ name, path, text: transcript.text, read, corrections, who })
  const done = await work(desk, task)
  const made = done.made + (done.stopped ? 0 : await settleWithdrawals(desk, task))
  if (!task.list) {
    const left = doubtfulIn(desk.record())
    const kept = made > 0 ? `${counted(made, 'correction')} kept in ${correctionsPath(path)}` : 'Nothing was put right'
    terminal.out(`${kept}; ${left > 0 ? `${counted(left, 'value')} left to look at` : 'nothing is left to look at'}.\n`)
    await learn([{ desk, transcript, date }], task)
  }
  return 0
}

/** The notes of a logbook that have something doubtful, latest first: what was seen last is remembered best. */
async function fixLogbook(book: Logbook, who: string, task: Task): Promise<number> {
  const { terminal, yard } = task
  const learned: LessonNote[] = []
  let [made, notes] = [0, 0]
  const spokenOf = new Map((await book.hives()).map(({ hive, notes: count }) => [hive, count]))
  const apart = await Apart.in(book)
  const yardLabels = (yard?.hives ?? []).map(({ label }) => label)
  for await (const note of book.notes(undefined, 'last to first')) {
    const desk = await logbookDesk(book, note, who)
    const labels = desk.record().hives.map(({ hive }) => hive)
    const doubts = doubtfulLabels(labels, spokenOf, yardLabels, (one, other) => apart.has(one, other))
    const isOpen = doubts.length > 0 || doubtfulIn(desk.record()) > 0 || withoutPeriod(desk).length > 0
    if (desk.orphaned().length === 0 && !isOpen) continue
    terminal.out(`\n${note.date}  ${clean(note.name)}\n`)
    const settled = await settleLabels(doubts, desk, apart, task)
    const done = await work(desk, task)
    const periods = done.stopped ? 0 : await settleWithdrawals(desk, task)
    const here = done.made + settled + periods
    made += here
    if (here > 0) notes++
    if (desk.corrections.length > 0)
      learned.push({ desk, transcript: openNote(await book.source(note.id), note.path), date: note.date })
    if (done.stopped) break
  }
  if (task.list) return 0
  await book.judgeWaiting((record, history) => judge(record, history, yard), judgedBy)
  terminal.out(`${counted(made, 'correction')} in ${counted(notes, 'note')}, kept in the logbook.\n`)
  await learn(learned, task)
  return 0
}

async function work(desk: Desk, { terminal, yard, list }: Task): Promise<Outcome> {
  for (const { correction } of desk.orphaned()) {
    const what =
      'readings' in correction ? correction.readings.map(({ words, field }) => `${field} "${words.quote}"`) : []
    terminal.out(
      `  finds its words no more (${correction.kind} of ${correction.at.slice(0, 10)}): ${clean(what.join(', '))}\n`,
    )
  }
  if (list) {
    const questions = questionsFor(desk.record(), desk.text, { history: desk.history, yard })
    for (const [i, question] of questions.entries()) {
      const answers = question.rows.map(() => ({ is: 'as said' as const }))
      const look = { left: questions.length - 1 - i, style: terminal.style, mayPlay: false, mayGoBack: false }
      terminal.out(`${lookScreen(question, answers, { ...look, isAsked: false })}\n`)
    }
    return { made: 0, stopped: false }
  }
  return goThrough(desk, { terminal, yard, play: playerFor(recordingOf(desk.path)) })
}

async function learn(notes: readonly LessonNote[], { terminal, yard, yardPath }: Task): Promise<void> {
  await teach(lessonsFrom(notes, yard ?? {}), yardPath, terminal)
}

/** The name under which corrections are kept, where the system knows one. */
function userName(): string {
  try {
    return userInfo().username
  } catch {
    return ''
  }
}
