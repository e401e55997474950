import { added } from '../../corrections/answer.ts'
import type { CorrectionBody } from '../../corrections/correction.ts'
import { valuesOf } from '../../corrections/entry.ts'
import { placeFor } from '../../corrections/missed.ts'
import type { Question } from '../../corrections/questions.ts'
import { fieldCalled, fieldsNear } from '../../report/called.ts'
import { clean } from '../../report/clean.ts'
import { sayField, sayHive } from '../../report/words.ts'
import { askKey, askLine, askValue } from './ask.ts'
import type { Desk } from './desk.ts'

/** A value that was missed: its words, its field, the value. At the place of the look. */
export async function missedValue(question: Question, { text }: Desk): Promise<CorrectionBody | undefined> {
  const quote = await askLine('In which words was it said?', (line) =>
    find(text, line, question.start) ? undefined : 'copy some words of the note as they stand there',
  )
  const words = quote === undefined ? undefined : find(text, quote, question.start)
  if (!words) return undefined
  const said = await askLine('What is it (frames of brood, queen.seen …)?', (line) =>
    fieldCalled(line) === undefined ? `no such value; near: ${fieldsNear(line)}` : undefined,
  )
  const field = said === undefined ? undefined : fieldCalled(said)
  if (field === undefined) return undefined
  const choices = valuesOf(field)
  const value = await askValue(`${sayField(field)}${choices.length > 0 ? ` (${choices.join(', ')})` : ''}`, field)
  if (value === undefined) return undefined
  const row = question.rows.findLast((one) => one.start <= words.start) ?? question.rows[0]
  const { box, frame, side } = row?.place ?? { box: null, frame: null, side: null }
  const place = placeFor(field, { hive: question.hive, box, frame, side })
  return added(text, words, field, value, place)
}

/** Words as typed, in the note: those nearest to `near`, whatever their case and spaces. */
function find(text: string, typed: string, near: number): { start: number; end: number } | undefined {
  const words = typed.trim().split(/\s+/).filter(Boolean)
  if (words.length === 0) return undefined
  const pattern = new RegExp(words.map((word) => word.replace(/[.*+?^${}()|[\]\\]/g, '\\$&')).join('\\s+'), 'gi')
  const found = [...text.matchAll(pattern)].sort((a, b) => Math.abs(a.index - near) - Math.abs(b.index - near))[0]
  return found && { start: found.index, end: found.index + found[0].length }
}

/** What is not about the values in hand: the day of the visit, two labels of one hive. */
export async function otherThings(desk: Desk): Promise<CorrectionBody | undefined> {
  const screen = ['', '   d  the day of the visit', '   m  two labels are one hive', '', 'Enter leave it'].join('\n')
  const key = await askKey(screen, ['enter', 'd', 'm'])
  if (key === 'd') {
    const date = await askValue('Day of the visit (2026-05-04)', 'visit.date')
    return date === undefined ? undefined : { kind: 'date', date: String(date) }
  }
  if (key !== 'm') return undefined
  const labels = desk.record().hives.map(({ hive }) => hive)
  const shown = labels.map((label) => clean(sayHive(label))).join(', ')
  const label = (typed: string): string =>
    typed
      .toLowerCase()
      .replace(/^\s*hive\s+/, '')
      .trim()
  const from = await askLine(`Which label is wrong? (${shown})`, (line) =>
    labels.includes(label(line)) ? undefined : 'type one of these labels',
  )
  if (from === undefined) return undefined
  const into = await askLine(`Which hive is it really?`, (line) =>
    label(line) === '' || label(line) === label(from) ? 'type the label of the other' : undefined,
  )
  return into === undefined ? undefined : { kind: 'merge', from: label(from), into: label(into) }
}
