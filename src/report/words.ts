import type { Reading, Value } from '../record/schema.ts'

/** Field names and values as a keeper would say them. A field without an entry is spelled out from its name. */
const fields: Record<string, string> = {
  'visit.date': 'date',
  'visit.apiary': 'apiary',
  'weather.temperature': 'temperature',
  'weather.sky': 'sky',
  'weather.wind': 'wind',
  'queen.markColour': 'queen mark',
  'queen.state': 'queen is',
  'queen.year': 'queen of',
  'queen.origin': 'queen from',
  'eggs.present': 'eggs',
  'eggs.multiplePerCell': 'several eggs in a cell',
  'larvae.present': 'larvae',
  'brood.present': 'brood',
  'cappedBrood.present': 'capped brood',
  'droneBrood.present': 'drone brood',
  'drones.present': 'drones',
  'brood.pattern': 'brood pattern',
  'brood.coverPercent': 'under brood',
  'queenCells.present': 'queen cells',
  'queenCells.count': 'queen cells, number',
  'queenCells.kind': 'queen cells, kind',
  'queenCells.stage': 'queen cells, stage',
  'queenCups.present': 'queen cups',
  'queenCups.count': 'queen cups, number',
  'frames.total': 'frames in all',
  'frames.drawn': 'frames drawn',
  'frames.empty': 'frames empty',
  'seams.bees': 'seams of bees',
  'boxes.brood': 'brood boxes',
  'boxes.super': 'supers',
  temperament: 'temper',
  population: 'strength',
  'stores.level': 'stores',
  'stores.weight': 'stores, weight',
  'excluder.present': 'excluder on',
  'honey.cappedPercent': 'honey capped',
  'honey.filledPercent': 'filled with honey',
  'honey.moisture': 'water in honey',
  'honey.shake': 'shake test',
  'honey.taken': 'honey taken',
  'comb.drawnPercent': 'comb drawn',
  'frame.holds': 'holds',
  'frame.taken': 'taken for honey',
  'colony.dead': 'dead-out',
  'mites.count': 'mites counted',
  'mites.sampleBees': 'bees in the sample',
  'mites.method': 'mite test',
  'mites.perHundred': 'mites',
  'mites.dropPerDay': 'mites dropped',
  'mites.days': 'board was under for',
  'pollen.comingIn': 'pollen coming in',
  'weight.gross': 'weight on the scale',
  'moved.from': 'frames moved from',
  'moved.to': 'frames moved to',
}

const jobs: Record<string, string> = {
  inspect: 'look in',
  feed: 'feed',
  treat: 'treat',
  takeHoney: 'take honey',
  order: 'get or order',
}

/** `takeHoney` as `take honey`. */
export const spell = (name: string): string => name.replace(/(?<=[a-z0-9])([A-Z])/g, ' $1').toLowerCase()

export function sayField(field: string): string {
  const known = fields[field]
  if (known) return known
  const [first = '', second = '', ...rest] = field.split('.')
  const tail = rest.length > 0 ? `, ${rest.map(spell).join(' ')}` : ''
  if (first === 'did') return `done: ${jobs[second] ?? spell(second)}${tail}`
  if (first === 'todo') return `to do: ${jobs[second] ?? spell(second)}${tail}`
  if (first === 'frames') return `frames of ${spell(second)}`
  if (first === 'sign') return spell(second)
  if (first === 'pest') return rest[0] === 'level' || rest[0] === 'present' ? spell(second) : `${spell(second)}${tail}`
  return [first, second, ...rest].filter(Boolean).map(spell).join(' ')
}

const unitWords: Partial<Record<NonNullable<Reading['unit']>, string>> = {
  percent: ' %',
  kg: ' kg',
  C: ' °C',
  litres: ' l',
  days: ' days',
  perHundred: ' in 100 bees',
  perDay: ' a day',
}

const values: Record<string, string> = {
  syrup1to1: 'syrup 1:1',
  syrup2to1: 'syrup 2:1',
  co2: 'CO2',
  pollenSub: 'pollen substitute',
}

const round = (number: number) => String(Math.round(number * 100) / 100)

/** A value with its unit: `6 to 7`, `75 %`, `overcast`, `oxalic acid`. */
export function sayValue(value: Value, unit: Reading['unit']): string {
  const after = (unit && unitWords[unit]) ?? ''
  if (Array.isArray(value)) return `${round(value[0])} to ${round(value[1])}${after}`
  if (typeof value === 'number') return round(value) + after
  if (/^\d{4}-\d\d-\d\d$/.test(value)) return sayDay(value)
  // Words of the vocabulary are spelled out; names of apiaries and the like stay as they were said.
  return values[value] ?? (/^[a-z]+[A-Za-z]*$/.test(value) ? spell(value) : value)
}

const months = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec']
const weekdays = ['Sun', 'Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat']

/** `2026-05-04` as `Mon 4 May 2026`. A date is a calendar day here, never a moment, so the time zone plays no part. */
export function sayDay(iso: string): string {
  const [year = 0, month = 1, day = 1] = iso.split('-').map(Number)
  const weekday = weekdays[new Date(Date.UTC(year, month - 1, day)).getUTCDay()]
  return `${weekday} ${day} ${months[month - 1]} ${year}`
}

/** `hive 2`, `hive olive`; the one unnamed hive is `the hive`. */
export const sayHive = (hive: string): string => (hive === '' ? 'the hive' : `hive ${hive}`)

/** `super 1, frame 3, side A`, or nothing for what belongs to the hive as a whole. */
export function sayPlace(box: string | null, frame: number | null, side: 'A' | 'B' | null): string {
  return [box, frame === null ? null : `frame ${frame}`, side === null ? null : `side ${side}`]
    .filter((part) => part !== null)
    .join(', ')
}

/** A count with its noun: `1 note`, `3 notes`. */
export const counted = (count: number, thing: string): string => `${count} ${thing}${count === 1 ? '' : 's'}`
