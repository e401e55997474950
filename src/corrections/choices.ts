import { fieldInfo } from '../record/fields.ts'
import type { Reading, Value } from '../record/schema.ts'
import { valuesOf } from './entry.ts'
import { sameValue } from './find.ts'

/** What one row of a question may be answered with. */
export type RowAnswer =
  | { readonly is: 'as said' }
  | { readonly is: 'not said' }
  /** Another value, and where that was wrong as well another hive. */
  | { readonly is: 'value'; readonly value: Value; readonly hive?: string }
  /** The value is right and belongs to another hive. */
  | { readonly is: 'hive'; readonly hive: string }

/** The most that one key each can choose. */
const MOST = 9

const NUMBERS: Record<string, number> = {
  __proto__: null as never,
  no: 0,
  none: 0,
  a: 1,
  one: 1,
  couple: 2,
  two: 2,
  three: 3,
  four: 4,
  five: 5,
  six: 6,
  seven: 7,
  eight: 8,
  nine: 9,
  ten: 10,
  eleven: 11,
  twelve: 12,
  twenty: 20,
  thirty: 30,
  forty: 40,
  fifty: 50,
  sixty: 60,
  seventy: 70,
  eighty: 80,
  ninety: 90,
}

/** Numbers said in some words, nearest to `middle` (an offset into them) first. */
export function numbersIn(words: string, middle: number): number[] {
  const found: { value: number; far: number }[] = []
  for (const { 0: word, index } of words.matchAll(/\d+(?:\.\d+)?|\p{L}+/gu)) {
    const value = /^\d/.test(word) ? Number(word) : NUMBERS[word.toLowerCase()]
    if (value !== undefined) found.push({ value, far: Math.abs(index - middle) })
  }
  return [...new Set(found.sort((a, b) => a.far - b.far).map(({ value }) => value))]
}

/**
 * The choices for one reading, the likeliest first: as said; the values that lost; not said; the hives spoken of just
 * before and after; numbers in the words nearby; the other values of the field. At most nine.
 * `nearby`: the words around, `middle`: where in them the reading's own stand; `hives`: other hives, nearest first.
 */
export function choicesFor(reading: Reading, nearby: string, middle: number, hives: readonly string[]): RowAnswer[] {
  const out: RowAnswer[] = [{ is: 'as said' }]
  const taken: Value[] = [reading.value]
  const value = (one: Value): void => {
    if (taken.some((other) => sameValue(other, one)) || out.length >= MOST) return
    taken.push(one)
    out.push({ is: 'value', value: one })
  }
  const lost = reading.alternatives.filter(({ why }) => why !== 'corrected')
  const info = fieldInfo(reading.field)
  const others = info?.place === 'visit' ? [] : hives
  const moved = (one: string | undefined): void => {
    if (one !== undefined && out.length < MOST) out.push({ is: 'hive', hive: one })
  }
  // A wrong hive is by far the most frequent fault of a reader that knows the words.
  if (others.length > 0) moved(others[0])
  else if (lost[0]) value(lost[0].value)
  out.push({ is: 'not said' })
  for (const one of lost.slice(0, 3)) value(one.value)
  moved(others[1])
  if (info?.type === 'yesNo') value(reading.value === 'yes' ? 'no' : 'yes')
  moved(others[2])
  if (info?.type === 'number')
    for (const number of numbersIn(nearby, middle).slice(0, 4)) if (isFit(number, info.unit)) value(number)
  const words = valuesOf(reading.field)
  const at = words.indexOf(String(reading.value))
  // On a scale the neighbours are likelier than the far end.
  for (const word of [...words].sort((a, b) => Math.abs(words.indexOf(a) - at) - Math.abs(words.indexOf(b) - at)))
    value(word)
  return out
}

const isFit = (number: number, unit: string | null): boolean =>
  unit === 'percent' ? number <= 100 : unit === 'frames' || unit === 'seams' ? number <= 40 : true
