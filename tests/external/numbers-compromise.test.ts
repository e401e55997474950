import nlp from 'compromise'
import { expect, test } from 'vitest'
import { readAmount } from '../../src/language/amounts.ts'
import { splitWords } from '../../src/language/words.ts'

/** A second opinion on spoken numbers: the npm package compromise 14, which tags and reads English text. */
const theirs = (text: string): number | undefined => nlp(text).numbers().json()[0]?.number?.num
const ours = (text: string): number | undefined =>
  readAmount(splitWords(text, 0, text.length, { linesWrap: false }), 0)?.lo

test.each([
  'twenty two',
  'one hundred and five',
  'three hundred',
  'two thousand five hundred',
  'forty-one',
  'sixty percent',
  '95 percent',
  'ninety five percent',
  '1,250',
  '3.5',
  'two point five',
  'twelve',
])('%s', (said) => {
  const number = theirs(said)
  expect(number).toBeDefined()
  expect(ours(said)).toBe(number)
})
