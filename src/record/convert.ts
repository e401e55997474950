import type { Region } from './turn.ts'

type Amount = number | [number, number]

const tenth = (x: number): number => Math.round(x * 10) / 10
const hundredth = (x: number): number => Math.round(x * 100) / 100

/** 1 lb = 0.45359237 kg exactly (international yard and pound agreement, 1959); 1 stone = 14 lb. */
const KG_PER_POUND = 0.45359237

/** "Mid seventies". */
const PART_OF_TEN: Readonly<Record<string, number>> = { low: 2, mid: 5, high: 8 }

const map = (amount: Amount, f: (x: number) => number): Amount =>
  Array.isArray(amount) ? [f(amount[0]), f(amount[1])] : f(amount)

/**
 * A said amount in the record's unit. `F`, `C` and `temp` give °C (`temp`: by the yard's habit, else °F from 43 up, since
 * nobody opens a hive at 43 °C; common practice); `lb` and `stone` give kg; `percent` turns a fraction into a percentage.
 */
export function convert(amount: Amount, unit: string | null, region: Region): Amount {
  switch (unit) {
    case null:
      return amount
    case 'temp': {
      const high = Array.isArray(amount) ? amount[1] : amount
      const fahrenheit = high >= 43 || (region.temperature === 'F' && high > 15)
      return fahrenheit ? map(amount, (x) => tenth(((x - 32) * 5) / 9)) : amount
    }
    case 'low':
    case 'mid':
    case 'high':
      return convert(
        map(amount, (x) => x + PART_OF_TEN[unit]!),
        'temp',
        region,
      )
    case 'minus':
      return map(amount, (x) => -x)
    case 'F':
      return map(amount, (x) => tenth(((x - 32) * 5) / 9))
    case 'lb':
      return map(amount, (x) => hundredth(x * KG_PER_POUND))
    case 'stone':
      return map(amount, (x) => hundredth(x * 14 * KG_PER_POUND))
    case 'percent':
      return map(amount, (x) => (x <= 1 && !Number.isInteger(x) ? Math.round(x * 100) : x))
    case 'empty':
      return map(amount, (x) => 100 - (x <= 1 && !Number.isInteger(x) ? Math.round(x * 100) : x))
    case 'half':
      return map(amount, (x) => x + 0.5)
    case 'ticked':
      return map(amount, (x) => x / 2)
    default:
      throw new Error(`unknown unit "${unit}" in the grammar: this is a fault of the grammar`)
  }
}
