import { describe, expect, test } from 'vitest'
// @ts-expect-error tools are plain modules
import { misheardCopies } from './tools/misheard-copies.mjs'
// @ts-expect-error tools are plain modules
import { noisyChannel, placedChannel, wordErrors } from './tools/noise.mjs'

const noise: (text: string, rate: number, seed: string) => string = noisyChannel(new URL('../', import.meta.url))
type Place = { start: number; end: number }
type Heard = { heard: string; at: (place: Place) => Place }
const placed: (text: string, rate: number, seed: string) => Heard = placedChannel(new URL('../', import.meta.url))
const said = Array.from({ length: 200 }, () => 'Hive two has four frames of capped brood, eggs seen.').join(' ')

describe('the model of mishearing', () => {
  test('the same seed mishears the same, another seed otherwise', () => {
    expect(noise(said, 0.1, 'a')).toBe(noise(said, 0.1, 'a'))
    expect(noise(said, 0.1, 'a')).not.toBe(noise(said, 0.1, 'b'))
  })
  test.each([0.05, 0.1, 0.2, 0.3])('about %d of the words are wrong', (rate) => {
    const { errors, words } = wordErrors(said, noise(said, rate, 'c'))
    expect(errors / words).toBeGreaterThan(rate * 0.75)
    expect(errors / words).toBeLessThan(rate * 1.35)
  })
  test('nothing happens at rate 0', () => {
    expect(noise(said, 0, 'a')).toBe(said)
  })
  test('word errors are counted by the shortest way', () => {
    expect(wordErrors('four frames of brood', 'for frames brood now')).toEqual({ errors: 3, words: 4 })
    expect(wordErrors('four frames', 'four frames')).toEqual({ errors: 0, words: 2 })
  })
  test('where words are heard is known, whatever became of others', () => {
    const words = said.split(' ')
    const { heard, at } = placed(said, 0.2, 'd')
    let start = 0
    let same = 0
    let last = 0
    for (const word of words) {
      const place = at({ start, end: start + word.length })
      expect(place.start).toBeGreaterThanOrEqual(last)
      if (heard.slice(place.start, place.end) === word) same++
      last = place.start
      start += word.length + 1
    }
    expect(same / words.length).toBeGreaterThan(0.7)
    expect(same / words.length).toBeLessThan(0.9)
    expect(at({ start: 0, end: said.length })).toEqual({ start: 0, end: heard.length })
  })
  test('copies to learn from are misheard otherwise than what is measured with', () => {
    const copyOf = misheardCopies(new URL('../', import.meta.url))
    const written = { text: said, segments: [{ start: 0, end: said.length }] }
    const [heard, { said: text, at }] = copyOf('a note', { written, bare: said.toLowerCase() })
    expect([said, said.toLowerCase()]).toContain(text)
    expect(heard).not.toBe(text)
    expect(at({ start: 0, end: 4 }).start).toBe(0)
    for (const level of [5, 10, 20]) expect(heard).not.toBe(noise(text, level / 100, `a note ${level} 0 written`))
  })
})
