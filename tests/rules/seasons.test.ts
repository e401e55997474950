import { expect, test } from 'vitest'
import { addDays, daysBetween, isDate } from '../../src/rules/calendar.ts'
import { judge } from '../../src/rules/judge.ts'
import { isAutumn, isSwarmSeason, seasonOf } from '../../src/rules/season.ts'
import { openSettings } from '../../src/rules/settings.ts'
import { caseOf } from './case-line.ts'

const region = (of: object) => openSettings({ region: of }, new Set())

test.each([
  ['2026-02-28', 'winter'],
  ['2026-03-01', 'spring'],
  ['2026-05-31', 'spring'],
  ['2026-06-01', 'summer'],
  ['2026-08-31', 'summer'],
  ['2026-09-01', 'autumn'],
  ['2026-11-30', 'autumn'],
  ['2026-12-01', 'winter'],
])('%s in Britain is %s (meteorological seasons)', (date, season) => {
  expect(seasonOf(date, region({ country: 'GB' }))).toBe(season)
})

test('six months later in the south', () => {
  const south = region({ country: 'AU-NSW' })
  expect(seasonOf('2026-12-15', south)).toBe('summer')
  expect(seasonOf('2026-07-01', south)).toBe('winter')
  expect(['2026-09-30', '2026-10-01', '2027-01-31', '2027-02-01'].map((date) => isSwarmSeason(date, south))).toEqual([
    false,
    true,
    true,
    false,
  ])
  expect(['2026-01-31', '2026-02-01', '2026-05-31', '2026-06-01'].map((date) => isAutumn(date, south))).toEqual([
    false,
    true,
    true,
    false,
  ])
})

test('where winters are mild, February is spring', () => {
  expect(seasonOf('2026-02-07', region({ country: 'US', climate: 'mild' }))).toBe('spring')
  expect(seasonOf('2026-02-07', region({ country: 'US', climate: 'cold' }))).toBe('winter')
})

test('no place, no season: it is not guessed', () => {
  expect(seasonOf('2026-05-10', region({}))).toBeUndefined()
  expect(isSwarmSeason('2026-05-10', region({}))).toBeUndefined()
  expect(isAutumn('2026-05-10', region({ country: 'BR' }))).toBeUndefined()
  expect(seasonOf(null, region({ country: 'GB' }))).toBeUndefined()
})

test('days run over months, leap days and the change of clocks', () => {
  expect(addDays('2026-12-30', 3)).toBe('2027-01-02')
  expect(addDays('2028-02-28', 1)).toBe('2028-02-29')
  expect(daysBetween('2026-03-28', '2026-03-30')).toBe(2)
  expect([isDate('2026-05-10'), isDate('2026-13-40'), isDate('soon'), isDate(3)]).toEqual([true, false, false, false])
})

test('a warm winter day allows syrup, a cold one or an unmeasured one does not', () => {
  const next = (line: string) => {
    const { record, yard } = caseOf(`on 2026-01-10 ; yard country=GB ; stores.level=low ; ${line}`)
    return judge(record, [], yard, { only: ['feed-wanted'] })[0]!.says.next
  }
  expect(next('weather.temperature=14')).toContain('syrup')
  expect(next('weather.temperature=9')).toContain('fondant')
  expect(next('')).toContain('fondant')
})
