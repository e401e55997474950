import type { FlatReading } from '../record/schema.ts'
import { clean } from './clean.ts'
import { sayField, sayHive, sayPlace, sayValue } from './words.ts'

/** Where the keeper is just now. */
export interface PlaceInHand {
  readonly hive: string
  readonly box: string | null
  readonly frame: number | null
  readonly side: 'A' | 'B' | null
}

/** `hive 2, super 1, frame 4, side B`. */
export const sayWhere = ({ hive, box, frame, side }: PlaceInHand): string =>
  [clean(sayHive(hive)), sayPlace(box, frame, side)].filter(Boolean).join(', ')

/** `frames of brood 6`: a reading as it is said back; with a question mark where it should be looked at once. */
export const sayReading = (r: FlatReading): string =>
  `${sayField(r.field)} ${clean(sayValue(r.value, r.unit))}${r.flag === 'sure' ? '' : r.flag === 'check' ? '?' : '? say that again'}`

/** The same with the place inside its hive. */
export const sayPlaced = (r: FlatReading): string =>
  [sayPlace(r.box, r.frame, r.side), sayReading(r)].filter(Boolean).join(': ')

/** What a keeper calls things, and a word that the name of the field has. */
const CALLED: Readonly<Record<string, string>> = {
  mood: 'temper',
  calm: 'temper',
  behaviour: 'temper',
  strong: 'strength',
  varroa: 'mites',
  food: 'stores',
  feed: 'stores',
  laying: 'eggs',
  her: 'queen',
  she: 'queen',
  sealed: 'capped',
  weather: 'weather',
  drone: 'drone',
  treated: 'treat',
  treatment: 'treat',
}
const SMALL = new Set(
  'the a an of in on for any my its it is was were are there how many much we i had have saw seen'.split(' '),
)
const stem = (word: string): string => word.replace(/(?<=...)(?:es|s)$/, '')

/** The readings that some ordinary words are about: "the queen", "frames of brood". Without words, all. */
export function about<R extends FlatReading>(readings: readonly R[], words?: string): readonly R[] {
  const wanted = (words ?? '')
    .toLowerCase()
    .split(/[^\p{L}\p{N}]+/u)
    .filter((word) => word !== '' && !SMALL.has(word))
    .map((word) => stem(CALLED[word] ?? word))
  if (wanted.length === 0) return readings
  return readings.filter((r) => {
    const name = `${r.field} ${sayField(r.field)} ${sayValue(r.value, null)}`.toLowerCase()
    return wanted.every((word) => name.includes(word))
  })
}
