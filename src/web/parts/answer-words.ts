import type { RowAnswer } from '../../corrections/choices.ts'
import type { Row } from '../../corrections/questions.ts'
import { sayHive, sayPlace, sayValue } from '../../report/words.ts'

/** An answer as its button reads. */
export function answerWords(row: Row, answer: RowAnswer): string {
  if (answer.is === 'as said') return `${sayValue(row.value, row.unit)}, as it is`
  if (answer.is === 'not said') return 'not said'
  if (answer.is === 'hive') return `it was ${sayHive(answer.hive)}`
  const there = answer.hive === undefined ? '' : `, ${sayHive(answer.hive)}`
  return sayValue(answer.value, row.unit) + there
}

/** Where a value stands, as far as the hive of the look does not say it. */
export const rowPlace = ({ place }: Row, hive: string | null): string =>
  [
    place.hive === hive ? '' : place.hive === null ? 'whole visit' : sayHive(place.hive),
    sayPlace(place.box, place.frame, place.side),
  ]
    .filter(Boolean)
    .join(', ')

/** A hive's label as the record writes it: lower case, without the word hive. */
export const hiveLabel = (typed: string): string =>
  typed
    .toLowerCase()
    .replace(/^\s*(the\s+)?hive\s+/, '')
    .trim()
