import { describe, expect, test } from 'vitest'
import { readNote } from '../../src/read-note.ts'
import { placedReadings } from '../../src/record/schema.ts'
import { cellsOnBothSides, combs, type FrameType } from '../../src/rules/frames.ts'
import { colourOfYear } from '../../src/rules/queen-colours.ts'

/** Queen colours, frames and boxes as published; what keepers call them must be read as that. */
const read = (text: string): Record<string, unknown> =>
  Object.fromEntries(
    placedReadings(readNote(text, { name: 'note', date: '2026-05-20' })).map(({ reading }) => [
      reading.field,
      reading.value,
    ]),
  )

// Highfield Bees 2011 (highfieldbees.co.uk/2011/01/queen-marking-colours) and BEE-L 2000: by the last figure of the year.
const byLastFigure = { white: [1, 6], yellow: [2, 7], red: [3, 8], green: [4, 9], blue: [5, 0] } as const
const colours = Object.keys(byLastFigure) as (keyof typeof byLastFigure)[]

describe('queen colours', () => {
  test('of every year from 1990 to 2040', () => {
    for (let year = 1990; year <= 2040; year++) {
      const colour = colours.find((name) => byLastFigure[name].some((figure) => figure === year % 10))
      expect(colourOfYear(year), String(year)).toBe(colour)
    }
  })
  test.each(colours)('%s is heard as a mark, not as a queen of that colour', (colour) => {
    for (const said of [`Queen seen, marked ${colour}.`, `Queen has a ${colour} dot.`, `She has a ${colour} mark.`])
      expect(read(said), said).toMatchObject({ 'queen.markColour': colour, 'queen.marked': 'yes' })
  })
  // The same table: white "or grey". To be mended in grammar/en/queen.json.
  test.fails('grey stands beside white', () => {
    expect(read('Queen seen, marked grey.')).toMatchObject({ 'queen.markColour': 'grey', 'queen.marked': 'yes' })
  })
})

describe('frames in a box', () => {
  // Unit table of trade handbooks: Langstroth 8 or 10, National 11, Commercial 11, Dadant 11 or 12, Warre 8 bars.
  test.each<[FrameType, number[]]>([
    ['langstrothDeep', [8, 10]],
    ['langstrothMedium', [8, 10]],
    ['langstrothShallow', [8, 10]],
    ['nationalDeep', [11]],
    ['nationalShallow', [10, 11]],
    ['national14x12', [11]],
    ['commercialDeep', [11]],
    ['dadantDeep', [11, 12]],
    ['warre', [8]],
    ['wsp', [8, 9, 10]],
    ['manley', [8, 9, 10]],
    ['ideal', [8, 9, 10]],
  ])('%s', (type, numbers) => expect(numbers).toContain(combs[type].perBox))

  // Cells in a whole brood box: BBKA module notes, Hives, frames and ratios, 2015. Sources round per box.
  test.each<[FrameType, number]>([
    ['nationalDeep', 55_000],
    ['national14x12', 80_300],
    ['commercialDeep', 70_625],
    ['langstrothDeep', 61_000],
    ['dadantDeep', 85_000],
  ])('a box of %s has about %i cells', (type, cells) => {
    expect(Math.abs((cellsOnBothSides(type) * combs[type].perBox) / cells - 1)).toBeLessThan(0.13)
  })
})

describe('comb area follows from the size of the frame', () => {
  // One length and one allowance for bars a family; the outside depths in millimetres are published.
  const families: [string, { length: number; bars: number }, [FrameType, number][]][] = [
    [
      'Langstroth (kingbee.us excerpt: 9 1/8, 6 1/4 and 5 3/8 inches)',
      { length: 4.28, bars: 27.5 },
      [
        ['langstrothDeep', 232],
        ['langstrothMedium', 158.8],
        ['langstrothShallow', 136.5],
      ],
    ],
    [
      'Australian depths (Quality Beekeeping Supplies: box 190.5, 168 and 146 mm, frame 8 to 9.5 mm less)',
      { length: 4.28, bars: 27.5 },
      [
        ['wsp', 190.5 - 9],
        ['manley', 168 - 9],
        ['ideal', 146 - 9],
      ],
    ],
    [
      'British (tauntonhoney.co.uk: 216, 140 and 305 mm)',
      { length: 3.4, bars: 25 },
      [
        ['nationalDeep', 216],
        ['nationalShallow', 140],
        ['national14x12', 305],
      ],
    ],
  ]
  test.each(families)('%s', (_, { length, bars }, frames) => {
    for (const [type, depth] of frames) {
      expect(Math.abs(combs[type].sideDm2 - (length * (depth - bars)) / 100), type).toBeLessThan(0.1)
    }
  })
})

describe('boxes by their names', () => {
  // Names as in the lists above; brood and a half: Wirral BKA after BBKA News 216, 2013. Two boxes hold brood.
  test.each<[string, Record<string, number>]>([
    ['Brood and a half on hive two.', { 'boxes.brood': 2 }],
    ['Hive two is on double brood.', { 'boxes.brood': 2 }],
    ['Hive three, two deeps.', { 'boxes.brood': 2 }],
    ['Hive one, single deep.', { 'boxes.brood': 1 }],
    ['Hive one. Two brood boxes and one super.', { 'boxes.brood': 2, 'boxes.super': 1 }],
    ['Hive one. One ideal on.', { 'boxes.super': 1 }],
    ['Hive one. Three honey supers.', { 'boxes.super': 3 }],
    ['Hive one has a single deep and two shallows.', { 'boxes.brood': 1, 'boxes.super': 2 }],
  ])('%s', (said, facts) => expect(read(said)).toMatchObject(facts))

  // To be mended in grammar/en: sizes that stand for the box.
  const notYet: [string, Record<string, number>][] = [
    ['Hive one. Two Manleys on.', { 'boxes.super': 2 }],
    ['Hive one. A WSP super on.', { 'boxes.super': 1 }],
    ['Hive one. One half depth super on.', { 'boxes.super': 1 }],
  ]
  for (const [said, facts] of notYet) test.fails(said, () => expect(read(said)).toMatchObject(facts))

  // A size is no amount: worse than not reading it.
  test('"14 by 12" is one size of brood box, not twelve boxes', () => {
    expect(read('Hive one. 14 by 12 brood box.')).not.toMatchObject({ 'boxes.brood': 12 })
  })
  test('"one medium on" is a box, not a colony of middling strength', () => {
    expect(read('Hive one. One medium on.')).not.toHaveProperty('population')
  })
})
