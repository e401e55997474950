import wrapAnsi from 'wrap-ansi'
import type { RowAnswer } from '../../corrections/choices.ts'
import type { Question, Row } from '../../corrections/questions.ts'
import { clean } from '../../report/clean.ts'
import { capital, paints, type Style } from '../../report/style.ts'
import { sayField, sayHive, sayPlace, sayValue } from '../../report/words.ts'
import { clock } from '../../transcript/clock.ts'

export interface LookOptions {
  /** Looks behind this one. */
  readonly left: number
  readonly style: Style
  readonly mayPlay: boolean
  readonly mayGoBack: boolean
  /** Without it the keys are left out. */
  readonly isAsked?: boolean
}

/** How one look stands on the screen: where, the words in their context, the values, the keys. */
export function lookScreen(
  question: Question,
  answers: readonly RowAnswer[],
  { left, style, mayPlay, mayGoBack, isAsked = true }: LookOptions,
): string {
  const paint = paints(style)
  const time = question.at === null ? '' : `, ${clock(question.at)} into the recording`
  const more = left > 0 ? `, ${left} more to look at` : ', the last'
  const head = `${question.hive === null ? 'Whole visit' : capital(clean(sayHive(question.hive)))}${time}${more}`
  const rows = question.rows.map((row, i) => rowLine(row, i, answers[i]!, question.hive, style))
  const keys = [
    answers.every(({ is }) => is === 'as said') ? 'Enter all as said' : 'Enter save',
    `${question.rows.length > 1 ? `1-${question.rows.length}` : '1'} change`,
    ...(question.hive === null ? [] : ['h another hive']),
    '+ add',
    ...(mayPlay ? ['p play'] : []),
    ...(mayGoBack ? ['b back'] : []),
    's skip',
    'o other',
    'q stop',
  ]
  const body = ['', paint.heading(head), wordsOf(question, style), '', ...rows]
  return [...body, ...(isAsked ? ['', wrapped(keys.join(' · '), style)] : [])].join('\n')
}

const wrapped = (text: string, { width }: Style): string => wrapAnsi(text, width - 2, { trim: true })

/** More than this between two values, in characters, is left out: the look stays on one screen. */
const LONG = 150

/** The words, those of the values marked, with a line before and after; long stretches in between are left out. */
function wordsOf(question: Question, style: Style): string {
  const paint = paints(style)
  const { before, said, after } = question.words
  const spans = question.rows.map(({ start, end }) => ({ start: start - question.start, end: end - question.start }))
  const parts: string[] = [short(before, 'end')]
  let at = 0
  for (const { start, end } of spans.sort((a, b) => a.start - b.start || b.end - a.end)) {
    if (end <= at) continue
    parts.push(
      short(said.slice(at, Math.max(at, start)), 'middle'),
      paint.title(clean(said.slice(Math.max(at, start), end))),
    )
    at = end
  }
  parts.push(short(after, 'start'))
  const text = parts
    .filter(Boolean)
    .join(' ')
    .replace(/ (?=[,.;:!?)])/g, '')
  return wrapAnsi(`… ${text} …`, style.width - 4, { trim: true })
    .split('\n')
    .map((line) => `  ${line}`)
    .join('\n')
}

function short(text: string, keep: 'start' | 'middle' | 'end'): string {
  const plain = clean(text).replace(/\s+/g, ' ')
  if (keep !== 'middle' || plain.length <= LONG) return plain
  const cut = LONG / 2 - 10
  return `${plain.slice(0, cut).replace(/\s\S*$/, '')} … ${plain.slice(-cut).replace(/^\S*\s/, '')}`
}

function rowLine(row: Row, i: number, answer: RowAnswer, hive: string | null, style: Style): string {
  const paint = paints(style)
  const { place } = row
  const where = [
    place.hive !== hive ? (place.hive === null ? 'whole visit' : sayHive(place.hive)) : '',
    sayPlace(place.box, place.frame, place.side),
  ]
    .filter(Boolean)
    .join(', ')
  const value = clean(sayValue(row.value, row.unit))
  const now = answer.is === 'as said' ? value : `${value} → ${answerWords(row, answer)}`
  const why = row.weight > 0 ? ' (changes what to do)' : ''
  const what = `${where ? `${clean(where)}: ` : ''}${sayField(row.field)}`
  const text = ` ${i + 1}  ${what}: ${now}${why}   "${clean(row.quote).replace(/\s+/g, ' ')}"`
  const line = text.length > style.width - 1 ? `${text.slice(0, style.width - 2)}…` : text
  return answer.is === 'as said' ? line : paint.title(line)
}

/** An answer as it reads behind an arrow or a number. */
export function answerWords(row: Row, answer: RowAnswer): string {
  if (answer.is === 'as said') return `as said: ${clean(sayValue(row.value, row.unit))}`
  if (answer.is === 'not said') return 'not said'
  if (answer.is === 'hive') return `it was ${clean(sayHive(answer.hive))}`
  const there = answer.hive === undefined ? '' : `, ${clean(sayHive(answer.hive))}`
  return clean(sayValue(answer.value, row.unit)) + there
}

/** The numbered choices of one row. */
export function choiceScreen(row: Row, style: Style): string {
  const paint = paints(style)
  const head = `${sayField(row.field)}, "${clean(row.quote).replace(/\s+/g, ' ')}"`
  const lines = row.choices.map((choice, i) => `   ${i + 1}  ${answerWords(row, choice)}`)
  const keys = ['t type the value', ...(row.place.hive === null ? [] : ['h another hive']), 'Enter leave it']
  return [paint.heading(head), ...lines, '', keys.join(' · ')].join('\n')
}
