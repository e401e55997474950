import { describe, expect, test } from 'vitest'
import { castes, lastLaid } from '../../src/rules/development.ts'
import {
  beesOn,
  cellsOnBothSides,
  combs,
  droneCellsPerDm2,
  honeyKgOf,
  workerCellsPerDm2,
} from '../../src/rules/frames.ts'
import { boardThreshold, miteThreshold } from '../../src/rules/mite-thresholds.ts'
import { isIndex, moistureAt, moistureLimit, usGrade, yeastAllowed } from '../../src/rules/moisture.ts'
import { colourOfYear } from '../../src/rules/queen-colours.ts'
import { openSettings } from '../../src/rules/settings.ts'
import { storesFromSugar, syrupStrength } from '../../src/rules/syrup.ts'
import { wilson } from '../../src/rules/wilson.ts'

/** The rules' numbers against figures that others published. The source stands beside each. */

const settings = (yard: Parameters<typeof openSettings>[0]) => openSettings(yard, new Set())

describe('development', () => {
  test('days to emergence: worker 21, queen 16, drone 24 (Morse, Cornell fact sheet 925.00, 1996)', () => {
    expect([castes.worker.emerges, castes.queen.emerges, castes.drone.emerges]).toEqual([21, 16, 24])
  })
  test('stages 3 : 6 : 12 days, so eggs, larvae and sealed stand as 1 : 2 : 4 (Wade, ACT Beekeepers, 2022)', () => {
    const { hatches, sealed, emerges } = castes.worker
    expect([hatches, sealed - hatches, emerges - sealed]).toEqual([3, 6, 12])
  })
  test('a queen cell is sealed on day 8 to 9 (The Apiarist, Prime numbers and cast offs)', () => {
    expect(castes.queen.sealed).toBeGreaterThanOrEqual(8)
    expect(castes.queen.sealed).toBeLessThanOrEqual(9)
  })
  test('only sealed brood: nine days or more without laying (Trunch Beekeepers after the WBKA guide)', () => {
    expect(lastLaid({ eggs: false, larvae: false, sealed: true })).toEqual({ atLeast: 9, atMost: 21 })
  })
  test('what the youngest stage says of the last egg', () => {
    expect(lastLaid({ eggs: true })).toEqual({ atLeast: 0, atMost: 3 })
    expect(lastLaid({ eggs: false, larvae: true })).toEqual({ atLeast: 3, atMost: 9 })
    expect(lastLaid({ larvae: true })).toEqual({ atLeast: 0, atMost: 9 })
    expect(lastLaid({ eggs: false, larvae: false, sealed: false })).toEqual({ atLeast: 21, atMost: null })
    expect(lastLaid({})).toBeUndefined()
  })
})

describe('Wilson interval', () => {
  // Newcombe, Statistics in Medicine 17:857-872 (1998), table I, score method; the four examples are from memory.
  test.each([
    [81, 263, 0.2553, 0.3662],
    [15, 148, 0.0624, 0.1605],
    [0, 20, 0, 0.1611],
    [1, 29, 0.0061, 0.1718],
  ])('%i of %i: %f to %f', (found, looked, low, high) => {
    const interval = wilson(found, looked)
    expect(interval.low).toBeCloseTo(low, 4)
    expect(interval.high).toBeCloseTo(high, 4)
  })
  test('its ends are where the score test just rejects (Wilson 1927): the defining equation, solved another way', () => {
    const z = 1.959963984540054
    const score = (p: number, found: number, looked: number) => (found / looked - p) / Math.sqrt((p * (1 - p)) / looked)
    for (const [found, looked] of [
      [43, 310],
      [9, 300],
      [8, 300],
      [1, 60],
      [200, 300],
    ] as const) {
      const { low, high } = wilson(found, looked)
      expect(score(low, found, looked)).toBeCloseTo(z, 9)
      expect(score(high, found, looked)).toBeCloseTo(-z, 9)
    }
  })
})

describe('honey moisture', () => {
  // Refractive index at 20 °C to water, points of the Chataway table (Bogdanov, Book of Honey ch. 4, 2011).
  test.each([
    [1.5044, 13],
    [1.5018, 14],
    [1.4992, 15],
    [1.4966, 16],
    [1.4956, 16.4],
    [1.494, 17],
    [1.4935, 17.2],
    [1.4915, 18],
    [1.49, 18.6],
    [1.489, 19],
    [1.4865, 20],
    [1.484, 21],
    [1.4815, 22],
    [1.479, 23],
    [1.474, 25],
  ])('index %f is %f %% water', (index, water) => {
    expect(Math.abs(moistureAt(index) - water)).toBeLessThan(0.03)
    expect(isIndex(index)).toBe(true)
  })
  test('0.00023 a degree off 20 °C (Bogdanov 2011); the sums are derived', () => {
    expect(moistureAt(1.49, 25)).toBeCloseTo(18.1, 1)
    expect(moistureAt(1.49, 15)).toBeCloseTo(19.05, 1)
    expect(moistureAt(1.4915, 30)).toBeCloseTo(17.1, 1)
  })
  test('the constant printed 1.73190 in old bar notation is -0.26810: taken at its word it gives no honey', () => {
    expect((1.7319 - Math.log10(0.49)) / 0.002243).toBeGreaterThan(800)
    expect(moistureAt(1.49)).toBeLessThan(20)
  })
  // Lochhead's classes as in A Practical Manual of Beekeeping, table 2.
  test.each([
    [17.0, 'any'],
    [17.1, 1000],
    [18.0, 1000],
    [18.1, 10],
    [19.0, 10],
    [19.1, 1],
    [20.0, 1],
    [20.1, 'none'],
  ])('at %f %% safe with %s yeast cells a gram', (water, yeast) => {
    expect(yeastAllowed(water)).toBe(yeast)
  })
  test.each([
    ['EU directive 2001/110/EC, annex II', { honeyStandard: 'eu' }, 20],
    ['EU directive 2001/110/EC, annex II, heather', { honeyStandard: 'eu', heather: true }, 23],
    ['Codex CXS 12-1981, 3.3 (figure from memory)', { honeyStandard: 'codex' }, 20],
    ['Codex CXS 12-1981, 3.3, Calluna (figure from memory)', { honeyStandard: 'codex', heather: true }, 23],
    ['Australia New Zealand Food Standard 2.8.2', { honeyStandard: 'anz' }, 21],
    ['US grades A and B, 50 FR 15861, 1985', { honeyStandard: 'us' }, 18.6],
    ['Czech quality norm (Brno 2014)', { honeyStandard: 'cz' }, 18],
  ])('%s', (_, rules, most) => {
    expect(moistureLimit(settings({ rules })).most).toBe(most)
  })
  test('US grades by water: A and B to 18.6, C to 20.0 (50 FR 15861)', () => {
    expect([18.6, 18.7, 20, 20.1].map(usGrade)).toEqual(['A or B', 'C', 'C', 'substandard'])
  })
})

describe('combs', () => {
  // Cells on one side and in a whole frame: BBKA module notes, Hives, frames and ratios, 2015. Sources round per box.
  test.each([
    ['langstrothDeep', 3050],
    ['nationalDeep', 2500],
    ['national14x12', 3650],
    ['commercialDeep', 3200],
    ['dadantDeep', 3850],
  ] as const)('%s has about %i cells a side', (type, cells) => {
    expect(Math.abs(cellsOnBothSides(type) / 2 / cells - 1)).toBeLessThan(0.13)
  })
  test('23.6 to 25 worker and 16 drone cells a square inch (Illinois Queen Initiative)', () => {
    const squareInch = 0.064516
    expect(workerCellsPerDm2 * squareInch).toBeGreaterThan(23.6)
    expect(workerCellsPerDm2 * squareInch).toBeLessThan(25)
    expect(droneCellsPerDm2 * squareInch).toBeCloseTo(16, 1)
  })
  test('a Langstroth deep side is 135 square inches (Pacific Northwest Extension, second-hand)', () => {
    expect(combs.langstrothDeep.sideDm2 / 0.064516).toBeCloseTo(135.6, 0)
  })
  test('a National deep side is 100 square inches (Cheshire BKA)', () => {
    expect(combs.nationalDeep.sideDm2 / 0.064516).toBeGreaterThan(99)
    expect(combs.nationalDeep.sideDm2 / 0.064516).toBeLessThan(102)
  })
  test('bees on a comb in uncrowded hives: 1,400 Langstroth, 1,100 British (J. Apic. Res. 8(1):3-8, 1969)', () => {
    expect(Math.abs(beesOn('langstrothDeep').low / 1400 - 1)).toBeLessThan(0.05)
    expect(Math.abs(beesOn('nationalDeep').low / 1100 - 1)).toBeLessThan(0.05)
  })
  // kingbee.us excerpt (6, 4 and 3 lb extractable) and BBKA News 216 (just over 2 kg).
  test.each([
    ['langstrothDeep', 6 * 0.4536],
    ['langstrothMedium', 4 * 0.4536],
    ['langstrothShallow', 3 * 0.4536],
    ['nationalDeep', 2.1],
  ] as const)('%s holds about %f kg of honey', (type, kg) => {
    expect(Math.abs(honeyKgOf(type) / kg - 1)).toBeLessThan(0.15)
  })
  test('720 square inches of sealed brood are 18,000 cells or 1,500 eggs a day (Illinois Queen Initiative)', () => {
    const { sealed, emerges } = castes.worker
    expect((720 * 25) / (emerges - sealed)).toBe(1500)
    expect(Math.abs((720 * 0.064516 * workerCellsPerDm2) / 18_000 - 1)).toBeLessThan(0.03)
  })
})

describe('queen colours', () => {
  // Highfield Bees 2011: white 1 and 6, yellow 2 and 7, red 3 and 8, green 4 and 9, blue 5 and 0.
  test.each([
    [2021, 'white'],
    [2026, 'white'],
    [2022, 'yellow'],
    [2027, 'yellow'],
    [2023, 'red'],
    [2028, 'red'],
    [2024, 'green'],
    [2029, 'green'],
    [2025, 'blue'],
    [2030, 'blue'],
  ])('%i is %s', (year, colour) => {
    expect(colourOfYear(year)).toBe(colour)
  })
})

describe('mite thresholds', () => {
  test.each([
    ['Ontario ministry, May', 'ontario', 'spring', 2],
    ['Ontario ministry, August', 'ontario', 'summer', 3],
    ['USDA-ARS Tucson, any season', 'usdaArs', 'spring', 3],
    ['Bee Informed Partnership, spring', 'beeInformed', 'spring', 1],
    ['Bee Informed Partnership, autumn', 'beeInformed', 'autumn', 3],
  ] as const)('%s', (_, miteAuthority, season, act) => {
    expect(miteThreshold(season, settings({ rules: { miteAuthority } }), false).act).toBe(act)
  })
  test('New South Wales: fewer than 3 mites in 300 bees, wait (The Land 2023 after NSW DPI)', () => {
    expect(miteThreshold('autumn', settings({ rules: { miteAuthority: 'nsw' } }), true).watch).toBe((3 / 300) * 100)
  })
  test('Ontario board: 9 a day in May, 12 in August', () => {
    expect(boardThreshold('spring', settings({})).act).toBe(9)
    expect(boardThreshold('summer', settings({})).act).toBe(12)
  })
  test('USDA-ARS board: more than 30 a day', () => {
    expect(boardThreshold('summer', settings({ rules: { miteAuthority: 'usdaArs' } })).act).toBe(30)
  })
  test('the default is never laxer than the laxest authority nor stricter than the strictest', () => {
    for (const season of ['spring', 'summer', 'autumn'] as const) {
      const acts = (['ontario', 'usdaArs', 'beeInformed'] as const).map(
        (miteAuthority) => miteThreshold(season, settings({ rules: { miteAuthority } }), false).act,
      )
      const { act } = miteThreshold(season, settings({}), false)
      expect(act).toBeGreaterThanOrEqual(Math.min(...acts))
      expect(act).toBeLessThanOrEqual(Math.max(...acts))
    }
  })
})

describe('syrup', () => {
  test.each([
    ['2 : 1 by weight (USDA-ARS report 169, 1977)', 2, 1, 66.7],
    ['1 kg to 630 ml (National Bee Unit guideline 7)', 1, 0.63, 61.3],
    ['2 lb to 1 imperial pint (National Bee Unit guideline 7)', 2 * 0.4536, 0.568, 61.5],
    ['1 kg to 0.5 litre (Trunch Beekeepers)', 1, 0.5, 66.7],
    ['1 : 1 by weight (Burgh Bees)', 1, 1, 50],
  ])('%s', (_, sugar, water, strength) => {
    expect(syrupStrength(sugar, water)).toBeCloseTo(strength, 0)
  })
  test('3.36 kg of sugar make at most 4.1 kg of stores at 18 % water (derived)', () => {
    expect(storesFromSugar(3.36)).toBeCloseTo(4.1, 1)
  })
})
