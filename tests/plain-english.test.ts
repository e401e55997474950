import { expect, test } from 'vitest'
import { readNote } from '../src/read-note.ts'
import { placedReadings } from '../src/record/schema.ts'
// @ts-expect-error tools are plain modules
import { plainEnglish } from './tools/plain-english.mjs'

const root = new URL('../', import.meta.url)
const read = (text: string) => placedReadings(readNote(text, { name: 'note', date: '2026-05-20' }))

/** Sixty sentences of everyday talk at a time, as long as a note. */
function readingsIn(words: number, seed: string): string[] {
  const sentences: string[] = plainEnglish(root, words, seed)
  const out: string[] = []
  for (let i = 0; i < sentences.length; i += 60)
    for (const { reading } of read(sentences.slice(i, i + 60).join(' ')))
      out.push(`${reading.field} «${reading.quote}»`)
  return out
}

test('20,000 words of ordinary English without bees give fewer than one reading in 10,000 words', () => {
  const readings = readingsIn(20_000, 'ordinary')
  expect(readings.length, readings.join('\n')).toBeLessThan(2)
})

const chatter = (plainEnglish(root, 400, 'chatter') as string[]).join(' ')

test('a hive in the middle of other talk is still read', () => {
  const fields = read(`${chatter} Hive four, queen seen, six frames of brood, bees calm. ${chatter}`).map(
    ({ hive, reading }) => `${hive} ${reading.field} ${reading.value}`,
  )
  expect(fields).toContain('4 queen.seen yes')
  expect(fields).toContain('4 frames.brood 6')
  expect(fields).toContain('4 temperament calm')
})

test('the same quiet is a temper near bees and none in other talk', () => {
  const said = (text: string) => read(text).map(({ reading }) => reading.quote)
  expect(said(`${chatter} They were quiet today. ${chatter}`)).toEqual([])
  expect(said('They were quiet today.')).toHaveLength(1)
})
