import { fieldInfo } from '../record/fields.ts'
import type { Value } from '../record/schema.ts'

/** What a person typed, as a value of the field, or one sentence that says what would do. */
export type Entry = { readonly value: Value } | { readonly fault: string }

/** The values a field is chosen from; empty where any number or text will do. */
export function valuesOf(field: string): readonly string[] {
  const info = fieldInfo(field)
  if (info?.type === 'yesNo' || info?.type === 'deed') return ['yes', 'no']
  return info?.words ?? []
}

/**
 * Reads what was typed for a field: `y`, `5.5`, `6-7`, the beginning of one of its words, a day. Numbers are in the
 * field's unit (percent 0..100, frames, kg, °C); counts are not negative.
 */
export function parseEntry(field: string, typed: string): Entry {
  const text = typed.trim()
  const info = fieldInfo(field)
  if (!info) return { fault: `there is no field "${field}"` }
  if (text === '') return { fault: 'nothing was typed' }
  const words = valuesOf(field)
  if (words.length > 0) return oneOf(words, text)
  if (info.type === 'number') return numberEntry(text, info.unit)
  if (info.type === 'date') {
    const isDay = /^\d{4}-\d\d-\d\d$/.test(text) && new Date(`${text}T00:00:00Z`).toJSON()?.startsWith(text)
    return isDay ? { value: text } : { fault: 'type a day such as 2026-05-04' }
  }
  if (info.type === 'word') {
    // What was fed or treated with: too many to list, but always one short word of letters.
    return /^[A-Za-z][A-Za-z0-9]{0,39}$/.test(text) ? { value: text } : { fault: 'type one word, such as fondant' }
  }
  return text.length <= 200 ? { value: text } : { fault: 'type at most 200 characters' }
}

function oneOf(words: readonly string[], text: string): Entry {
  const plain = (word: string): string => word.toLowerCase().replace(/[^a-z0-9]/g, '')
  const asked = plain(text)
  const exact = words.find((word) => plain(word) === asked)
  if (exact !== undefined) return { value: exact }
  const begun = asked === '' ? [] : words.filter((word) => plain(word).startsWith(asked))
  return begun.length === 1 ? { value: begun[0]! } : { fault: `type one of: ${words.join(', ')}` }
}

const NUMBER = /^(-?\d+(?:[.,]\d+)?)(?:\s*(?:-|–|to)\s*(-?\d+(?:[.,]\d+)?))?\s*%?$/

function numberEntry(text: string, unit: string | null): Entry {
  const match = NUMBER.exec(text)
  const example = unit === 'percent' ? '80 or 70-80' : '5, 5.5 or 6-7'
  if (!match) return { fault: `type a number or a range, such as ${example}` }
  const low = Number(match[1]!.replace(',', '.'))
  const high = match[2] === undefined ? low : Number(match[2].replace(',', '.'))
  if (high < low) return { fault: 'type the smaller number first' }
  if (low < 0 && unit !== 'C') return { fault: 'type a number from 0 up' }
  if (unit === 'percent' && high > 100) return { fault: 'type a percentage from 0 to 100' }
  if (unit === 'C' && (low < -50 || high > 60)) return { fault: 'type degrees Celsius, from -50 to 60' }
  if (high > 1_000_000) return { fault: 'type a smaller number' }
  return { value: high > low ? [low, high] : low }
}
