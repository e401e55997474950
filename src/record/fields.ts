import type { units } from './schema.ts'

/** What kind of value a field takes, and how readings of it meet each other. */
export interface FieldInfo {
  readonly type: 'yesNo' | 'number' | 'word' | 'date' | 'text' | 'deed'
  readonly unit: (typeof units)[number] | null
  /** The finest place that a reading of it may carry. */
  readonly place: 'visit' | 'hive' | 'box' | 'frame' | 'side'
  /** May stand several times at one place (kinds of content, feeds, …). */
  readonly many: boolean
  readonly words?: readonly string[]
}

const yesNo = (place: FieldInfo['place'] = 'hive'): FieldInfo => ({ type: 'yesNo', unit: null, place, many: false })
const number = (unit: FieldInfo['unit'], place: FieldInfo['place'] = 'hive'): FieldInfo => ({
  type: 'number',
  unit,
  place,
  many: false,
})
const word = (words: string, place: FieldInfo['place'] = 'hive', many = false): FieldInfo => ({
  type: 'word',
  unit: null,
  place,
  many,
  words: words.split(' '),
})
const text = (place: FieldInfo['place'] = 'hive'): FieldInfo => ({ type: 'text', unit: null, place, many: false })

const FIXED: Record<string, FieldInfo> = {
  'visit.date': { type: 'date', unit: null, place: 'visit', many: false },
  'visit.apiary': text('visit'),
  'weather.temperature': number('C', 'visit'),
  'weather.sky': word('clear partlyCloudy overcast rain', 'visit'),
  'weather.wind': word('calm breezy windy', 'visit'),
  forage: word('flow dearth', 'visit'),
  'queen.seen': yesNo('side'),
  'queen.marked': yesNo(),
  'queen.clipped': yesNo(),
  'queen.markColour': text(),
  'queen.state': word('laying virgin failing droneLaying absent caged'),
  'queen.event': word('released replaced stoppedLaying killed'),
  'queen.year': number(null),
  'queen.origin': text(),
  queenright: yesNo(),
  'eggs.present': yesNo(),
  'larvae.present': yesNo(),
  'cappedBrood.present': yesNo(),
  'droneBrood.present': yesNo(),
  'brood.present': yesNo(),
  'eggs.multiplePerCell': yesNo(),
  layingWorkers: yesNo(),
  'brood.pattern': word('solid fair spotty'),
  'queenCells.present': yesNo('frame'),
  'queenCups.present': yesNo('frame'),
  'queenCells.count': number('count', 'frame'),
  'queenCups.count': number('count', 'frame'),
  'queenCells.kind': word('swarm supersedure emergency', 'frame'),
  'queenCells.stage': word('open capped emerged tornDown', 'frame', true),
  'seams.bees': number('seams', 'box'),
  'boxes.brood': number('boxes'),
  'boxes.super': number('boxes'),
  population: word('weak moderate strong crowded'),
  temperament: word('calm restless defensive aggressive'),
  'stores.level': word('none low adequate plentiful', 'box'),
  'stores.weight': number('kg', 'box'),
  'excluder.present': yesNo(),
  'mites.count': number('count'),
  'mites.sampleBees': number('count'),
  'mites.perHundred': number('perHundred'),
  'mites.dropPerDay': number('perDay'),
  'mites.days': number('days'),
  'mites.method': word('alcoholWash sugarRoll co2 stickyBoard droneUncapping visual'),
  'honey.cappedPercent': { type: 'number', unit: 'percent', place: 'side', many: true },
  'honey.filledPercent': { type: 'number', unit: 'percent', place: 'side', many: true },
  'comb.drawnPercent': { type: 'number', unit: 'percent', place: 'side', many: true },
  'brood.coverPercent': { type: 'number', unit: 'percent', place: 'side', many: true },
  'honey.moisture': number('percent', 'frame'),
  'honey.shake': word('dry drips', 'side'),
  'honey.taken': number('kg', 'hive'),
  'frame.holds': word(
    'eggs larvae cappedBrood droneBrood brood honey cappedHoney nectar pollen empty foundation',
    'side',
    true,
  ),
  'frame.taken': yesNo('side'),
  'colony.dead': yesNo(),
  stings: number('count'),
  'weight.gross': number('kg'),
  trend: word('better same worse', 'hive', true),
  'pollen.comingIn': yesNo(),
  'drones.present': yesNo(),
  // As the product's label says it; hardly ever spoken, so it is asked for.
  'did.treat.withdrawal': { type: 'text', unit: null, place: 'hive', many: true },
  'moved.from': text(),
  'moved.to': text(),
}

const COUNTS =
  'brood cappedBrood openBrood eggs larvae droneBrood bees honey cappedHoney nectar pollen drawn foundation empty total'.split(
    ' ',
  )

const PESTS = 'smallHiveBeetle varroa waxMoth ants wasps hornets mice roaches'.split(' ')

/** Names of fields that a person may be offered: all but deeds and signs, whose names are open. */
export const fieldNames = (): string[] => [
  ...Object.keys(FIXED),
  ...COUNTS.map((name) => `frames.${name}`),
  ...PESTS.flatMap((name) => ['level', 'count'].map((part) => `pest.${name}.${part}`)),
]

const known = new Map<string, FieldInfo | undefined>()

/** Everything known of a field; undefined for a name that is none. */
export function fieldInfo(field: string): FieldInfo | undefined {
  let info = known.get(field)
  if (info === undefined && !known.has(field)) {
    info = infoOf(field)
    known.set(field, info)
  }
  return info
}

function infoOf(field: string): FieldInfo | undefined {
  const fixed = FIXED[field]
  if (fixed) return fixed
  if (field.startsWith('frames.')) return COUNTS.includes(field.slice(7)) ? number('frames', 'box') : undefined
  if (field.startsWith('sign.')) return yesNo('frame')
  const pest = /^pest\.(\w+)\.(level|count|larvae|present)$/.exec(field)
  if (pest)
    return pest[2] === 'level' ? word('none few some many') : pest[2] === 'count' ? number('count') : yesNo('frame')
  const deed = /^(did|todo)\.(\w+)(?:\.(kind|amount|when))?$/.exec(field)
  if (!deed) return undefined
  if (deed[3] === 'kind') return { type: 'word', unit: null, place: 'hive', many: true }
  if (deed[3] === 'amount' || deed[3] === 'when') return { type: 'text', unit: null, place: 'hive', many: true }
  return { type: 'deed', unit: null, place: 'hive', many: true }
}
