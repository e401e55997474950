import { describe, expect, test } from 'vitest'
import { readNote } from '../src/read-note.ts'
import { flatten } from '../src/record/schema.ts'

/** How much was fed: the number is the feeding's value, the number with its unit stands beside it. */
const read = (said: string) =>
  flatten(readNote(said, { name: 'feeding', date: '2026-09-12' }))
    .filter(({ field }) => /^did\.feed(\.amount)?$/.test(field))
    .map(({ hive, field, value }) => `${hive} ${field}=${value}`)

describe('the measure of a feeding stands beside it', () => {
  test.each([
    ['Hive two. Gave them two litres of one to one syrup.', '2', 2, '2 litres'],
    ['Hive two. Fed a gallon of two to one.', '2', 1, '1 gallon'],
    ['Hive four, put on half a kilo of fondant.', '4', 0.5, '0.5 kilo'],
    ['Hive five: I fed one and a half litres of thick syrup.', '5', 1.5, '1.5 litres'],
    ['hive six gave them three pints of sugar water', '6', 3, '3 pints'],
    ['Hive seven, half a gallon of two to one on.', '7', 0.5, '0.5 gallon'],
    ['Hive eight. Fed them a quart of thin syrup.', '8', 1, '1 quart'],
    ['Hive nine, poured in 500 ml of syrup.', '9', 500, '500 ml'],
  ])('%s', (said, hive, value, amount) => {
    expect(read(said).sort()).toEqual([`${hive} did.feed.amount=${amount}`, `${hive} did.feed=${value}`])
  })

  test('"three a litre": the measure is the litre, whatever three is', () => {
    expect(read('Gave three a litre of syrup.').some((one) => one.endsWith('did.feed=1'))).toBe(true)
  })

  test.each(['Hive six. Fed them.', 'Hive two. One pollen patty on.', 'Hive three, topped up the feeder.'])(
    'no measure is made up: %s',
    (said) => {
      expect(read(said).filter((one) => one.includes('amount'))).toEqual([])
    },
  )

  test('what is only planned was not fed', () => {
    expect(read('Hive two. I will give them two litres of syrup on Saturday.')).toEqual([])
  })
})
