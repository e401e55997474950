import { changesBetween } from '../../corrections/after.ts'
import { correctionsFrom, movedFrom, wholeLookMoved } from '../../corrections/answer.ts'
import type { RowAnswer } from '../../corrections/choices.ts'
import { type CorrectionBody, standing } from '../../corrections/correction.ts'
import { valuesOf } from '../../corrections/entry.ts'
import { type Question, questionsFor, type Row } from '../../corrections/questions.ts'
import { clean } from '../../report/clean.ts'
import { sayHive } from '../../report/words.ts'
import { judge } from '../../rules/judge.ts'
import type { Yard } from '../../yard.ts'
import type { Terminal } from '../terminal.ts'
import { askKey, askLine, askValue } from './ask.ts'
import type { Desk } from './desk.ts'
import { choiceScreen, lookScreen } from './look.ts'
import { missedValue, otherThings } from './other.ts'

export interface Session {
  readonly terminal: Terminal
  readonly yard: Yard | undefined
  readonly play: ((at: number) => Promise<boolean>) | undefined
}

/** What came of one note: the keeper went through it, or stopped. */
export interface Outcome {
  /** Corrections that were made and not taken back. */
  readonly made: number
  readonly stopped: boolean
}

/** One answer, as far as going back needs to know of it. */
interface Given {
  readonly ids: readonly string[]
  readonly readings: readonly string[]
}

/** Asks about one note until nothing is doubtful or the keeper stops. Every answer is kept before the next question. */
export async function goThrough(desk: Desk, { terminal, yard, play }: Session): Promise<Outcome> {
  const passed = new Set<string>()
  const given: Given[] = []
  let first: string | undefined
  const beginning = standing(desk.corrections).length
  const made = () => standing(desk.corrections).length - beginning
  const findings = () => judge(desk.record(), desk.history, yard)
  let before = findings()
  const keep = async (bodies: readonly CorrectionBody[], readings: readonly string[]): Promise<void> => {
    if (bodies.length === 0) return
    given.push({ ids: await desk.save(bodies), readings })
    const after = findings()
    for (const { sentence } of changesBetween(before, after)) terminal.out(`  ${clean(sentence)}\n`)
    before = after
  }
  for (;;) {
    const open = questionsFor(desk.record(), desk.text, { history: desk.history, yard }).filter(
      ({ rows }) => !rows.every(({ readings }) => readings.every((id) => passed.has(id))),
    )
    // Going back, and a look that moved to another hive, show the same values again.
    const question = open.find(({ rows }) => rows.some(({ readings }) => readings.includes(first ?? ''))) ?? open[0]
    first = undefined
    if (!question) return { made: made(), stopped: false }
    if ((await look(question, open.length - 1)) === 'stop') return { made: made(), stopped: true }
  }

  async function look(question: Question, left: number): Promise<'stop' | 'next'> {
    const ids = question.rows.flatMap(({ readings }) => readings)
    const answers: RowAnswer[] = question.rows.map(() => ({ is: 'as said' }))
    const mayPlay = play !== undefined && question.at !== null
    for (;;) {
      const screen = lookScreen(question, answers, {
        ...{ left, mayPlay, style: terminal.style, mayGoBack: given.length > 0 },
      })
      const numbers = question.rows.map((_, i) => String(i + 1))
      const key = await askKey(screen, ['enter', ...numbers, ...'h+pbsoq'])
      const row = question.rows[Number(key) - 1]
      if (key === 'stop' || key === 'q') return 'stop'
      if (key === 'enter') {
        await keep(correctionsFrom(question, answers, desk.record(), desk.text), ids)
        for (const id of ids) passed.add(id)
        return 'next'
      }
      if (key === 's') {
        for (const id of ids) passed.add(id)
        return 'next'
      }
      if (key === 'p' && mayPlay && !(await play(question.at!))) terminal.err('combscribe: it could not be played.\n')
      if (key === 'b') {
        const last = given.pop()
        if (!last) continue
        await desk.save(last.ids.map((undoes) => ({ kind: 'undo', undoes })))
        before = findings()
        for (const id of last.readings) passed.delete(id)
        first = last.readings[0]
        return 'next'
      }
      if (key === 'h' && question.hive !== null) {
        const body = await otherHive(question)
        if (!body) continue
        await keep(body, ids)
        first = ids[0]
        return 'next'
      }
      if (key === '+') {
        const body = await missedValue(question, desk)
        if (body) await keep([body], [])
      }
      if (key === 'o') {
        const body = await otherThings(desk)
        if (!body) continue
        await keep([body], [])
        first = ids[0]
        return 'next'
      }
      if (row) answers[Number(key) - 1] = (await change(row)) ?? answers[Number(key) - 1]!
    }
  }

  async function change(row: Row): Promise<RowAnswer | undefined> {
    const numbers = row.choices.map((_, i) => String(i + 1))
    const key = await askKey(choiceScreen(row, terminal.style), ['enter', 't', 'h', ...numbers])
    if (key === 't') {
      const words = valuesOf(row.field)
      const value = await askValue(words.length > 0 ? `Value (${words.join(', ')})` : 'Value', row.field)
      return value === undefined ? undefined : { is: 'value', value }
    }
    if (key === 'h' && row.place.hive !== null) {
      const hive = await typeHive()
      return hive === undefined ? undefined : { is: 'hive', hive }
    }
    return row.choices[Number(key) - 1]
  }

  async function otherHive(question: Question): Promise<CorrectionBody[] | undefined> {
    const hives = question.hives.slice(0, 9)
    const lines = hives.map((hive, i) => `   ${i + 1}  ${clean(sayHive(hive))}`)
    const screen = ['Which hive was it?', ...lines, '', 't type it · Enter leave it'].join('\n')
    const key = await askKey(screen, ['enter', 't', ...hives.map((_, i) => String(i + 1))])
    const hive = key === 't' ? await typeHive() : hives[Number(key) - 1]
    if (hive === undefined) return undefined
    const reach = `${clean(sayHive(hive))}: how far?\n\n   Enter these values · f from here on · w the whole stretch`
    const far = await askKey(reach, ['enter', 'f', 'w'])
    if (far === 'stop') return undefined
    const record = desk.record()
    if (far === 'enter') return wholeLookMoved(question, hive, record, desk.text)
    return [movedFrom(record, desk.text, question.start, { hive }, far === 'f' ? 'from here' : 'whole stretch')]
  }
}

/** A hive's label as the record writes it: lower case, without the word hive. */
async function typeHive(): Promise<string | undefined> {
  const label = (typed: string): string =>
    typed
      .toLowerCase()
      .replace(/^\s*(the\s+)?hive\s+/, '')
      .trim()
  const typed = await askLine('Hive (its number or name)', (line) =>
    label(line) === '' ? 'type its number or name' : undefined,
  )
  return typed === undefined ? undefined : label(typed)
}
