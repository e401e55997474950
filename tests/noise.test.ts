import { describe, expect, test } from 'vitest'
// @ts-expect-error tools are plain modules
import { noisyChannel, wordErrors } from './tools/noise.mjs'

const noise: (text: string, rate: number, seed: string) => string = noisyChannel(new URL('../', import.meta.url))
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
})
