import { type Chance, chanceOf } from './chance.ts'

/** A season of invented colonies: what is true of each hive on each day of a visit, in the vocabulary of the labels. */

export type Value = string | number
export interface Fact {
  readonly field: string
  readonly value: Value
  readonly frame?: number
  readonly side?: 'A' | 'B'
}

export interface HiveVisit {
  readonly label: string
  /** What can be seen of the whole colony, and was done or planned. */
  readonly facts: readonly Fact[]
  /** Frames that are gone through one by one, from the first. */
  readonly frames: readonly { readonly frame: number; readonly facts: readonly Fact[] }[]
}

export interface Visit {
  /** ISO date. */
  readonly date: string
  readonly facts: readonly Fact[]
  readonly hives: readonly HiveVisit[]
}

/** What hives of a yard are called: some count, some name, some by the colour of the box. */
const LABELS = [
  ['1', '2', '3', '4', '5', '6', '7', '8'],
  ['11', '12', '14', '15', '16', '18', '20', '21'],
  ['blue', 'green', 'white', 'red', 'yellow', 'nuc 1', 'nuc 2', 'purple'],
  ['1', '2', '3', '4', '5', 'nuc 1', 'nuc 2', 'nuc 3'],
] as const

interface Colony {
  readonly label: string
  /** 0.6 to 1.2: how well it does. */
  readonly vigour: number
  temper: string
  /** Mites on a hundred bees. */
  mites: number
  beetles: number
  honey: number
  queen: 'laying' | 'virgin' | 'absent'
  readonly colour: string | undefined
  /** Visits since the old queen went. */
  since: number
  supers: number
}

const fact = (field: string, value: Value): Fact => ({ field, value })
const day = (year: number, dayOfYear: number) => new Date(Date.UTC(year, 0, dayOfYear)).toISOString().slice(0, 10)

/** Visits of one yard from April to September, `count` at the most, a week or two between them. */
export function seasonOf(seed: string, year: number, count: number): Visit[] {
  const chance = chanceOf(seed)
  const labels = chance.one(LABELS).slice(0, chance.whole(2, 8))
  const colonies = labels.map((label) => newColony(label, chance))
  const visits: Visit[] = []
  const stop = 270
  for (let at = chance.whole(92, 110); at < stop && visits.length < count; at += chance.whole(7, 14)) {
    const season = (at - 92) / (stop - 92)
    const seen = colonies.filter(() => chance.hit(0.8))
    for (const colony of colonies) grow(colony, season, chance)
    const visited = seen.length > 0 ? seen : colonies.slice(0, 1)
    visits.push({
      date: day(year, at),
      facts: weather(season, chance),
      hives: visited.map((colony) => look(colony, season, chance)),
    })
  }
  return visits
}

function newColony(label: string, chance: Chance): Colony {
  return {
    label,
    vigour: 0.6 + chance.whole(0, 6) / 10,
    temper: chance.one(['calm', 'calm', 'calm', 'restless', 'defensive']),
    mites: chance.whole(1, 8) / 10,
    beetles: chance.whole(0, 3),
    honey: chance.whole(1, 3),
    queen: 'laying',
    colour: chance.hit(0.6) ? chance.one(['white', 'yellow', 'red', 'green', 'blue']) : undefined,
    since: 0,
    supers: 0,
  }
}

function grow(colony: Colony, season: number, chance: Chance): void {
  colony.mites = Math.min(14, colony.mites * (1.1 + chance.whole(0, 25) / 100))
  colony.beetles = Math.max(0, Math.round(colony.beetles * (0.7 + chance.whole(0, 8) / 10) + chance.shake()))
  colony.honey = Math.max(0, Math.min(20, colony.honey + Math.round((season < 0.7 ? 1 : -0.5) + chance.shake())))
  if (chance.hit(0.08)) colony.temper = chance.one(['calm', 'restless', 'defensive', 'aggressive'])
  if (colony.queen === 'laying') {
    if (season > 0.15 && season < 0.6 && chance.hit(0.05)) [colony.queen, colony.since] = ['absent', 0]
  } else if (++colony.since === 1) colony.queen = 'virgin'
  else if (colony.since > 2) colony.queen = 'laying'
}

function weather(season: number, chance: Chance): Fact[] {
  return [
    fact('weather.temperature', Math.round(13 + 11 * Math.sin(Math.PI * season) + 2 * chance.shake())),
    fact('weather.sky', chance.one(['clear', 'partlyCloudy', 'overcast'])),
    fact('weather.wind', chance.one(['calm', 'breezy', 'windy'])),
  ]
}

function look(colony: Colony, season: number, chance: Chance): HiveVisit {
  const facts: Fact[] = []
  const add = (field: string, value: Value) => facts.push(fact(field, value))
  const maybe = (probability: number, field: string, value: () => Value) => {
    if (chance.hit(probability)) add(field, value())
  }
  const curve = Math.sin(Math.PI * (0.12 + 0.76 * season)) * colony.vigour
  const brood = Math.max(1, Math.min(9, Math.round(8 * curve + chance.shake())))
  const bees = Math.max(2, Math.min(10, brood + chance.whole(0, 2)))

  maybe(0.6, 'temperament', () => colony.temper)
  maybe(0.3, 'population', () => (bees < 4 ? 'weak' : bees < 7 ? 'moderate' : bees < 10 ? 'strong' : 'crowded'))
  if (chance.hit(0.5)) add('frames.bees', bees)
  else if (chance.hit(0.3)) add('seams.bees', Math.max(1, bees - 1))
  queen(colony, brood, chance, add)
  if (chance.hit(0.45)) add('frames.honey', Math.max(1, Math.min(10, Math.round(colony.honey))))
  else if (chance.hit(0.4)) {
    const level = colony.honey < 1 ? 'none' : colony.honey < 3 ? 'low' : colony.honey < 7 ? 'adequate' : 'plentiful'
    add('stores.level', level)
  }
  maybe(0.15, 'frames.pollen', () => chance.whole(1, 2))
  pests(colony, season, chance, add)
  for (const sign of ['chalkbrood', 'burrComb', 'deformedWings', 'bearding', 'dysentery'])
    maybe(0.02, `sign.${sign}`, () => 'yes')
  deeds(colony, bees, season, chance, add)

  const frames = chance.hit(0.25) ? goThrough(colony, brood, chance) : []
  return { label: colony.label, facts, frames }
}

type Add = (field: string, value: Value) => unknown

function queen(colony: Colony, brood: number, chance: Chance, add: Add): void {
  const isLaying = colony.queen === 'laying'
  if (isLaying) {
    if (chance.hit(0.7)) add('frames.brood', brood)
    if (chance.hit(0.6)) add('eggs.present', 'yes')
    if (chance.hit(0.4)) add('larvae.present', 'yes')
    if (chance.hit(0.3)) add('cappedBrood.present', 'yes')
    if (chance.hit(0.35)) add('brood.pattern', colony.vigour < 0.8 ? 'spotty' : 'solid')
    if (chance.hit(0.5)) {
      const seen = chance.hit(0.55)
      add('queen.seen', seen ? 'yes' : 'no')
      if (seen && colony.colour && chance.hit(0.6)) {
        add('queen.marked', 'yes')
        add('queen.markColour', colony.colour)
      } else if (seen && !colony.colour && chance.hit(0.3)) add('queen.marked', 'no')
    }
    if (chance.hit(0.45)) add('queenCells.present', 'no')
    if (chance.hit(0.2)) add('queenCups.count', chance.whole(1, 4))
    return
  }
  add('eggs.present', 'no')
  add('queen.seen', 'no')
  if (colony.since > 0) {
    if (chance.hit(0.6)) add('larvae.present', 'no')
    return
  }
  add('queenCells.count', chance.whole(2, 9))
  add('queenCells.kind', 'swarm')
  add('queenCells.stage', 'capped')
}

function pests(colony: Colony, season: number, chance: Chance, add: Add): void {
  if (chance.hit(0.35)) {
    if (colony.beetles === 0) add('pest.smallHiveBeetle.level', 'none')
    else if (chance.hit(0.7)) add('pest.smallHiveBeetle.count', colony.beetles)
    else add('pest.smallHiveBeetle.level', colony.beetles < 4 ? 'few' : colony.beetles < 10 ? 'some' : 'many')
  }
  if (season > 0.1 && chance.hit(0.25)) {
    add('mites.count', Math.round(3 * colony.mites))
    add('mites.sampleBees', 300)
    add('mites.method', chance.one(['alcoholWash', 'sugarRoll']))
  }
  if (season > 0.6 && chance.hit(0.05)) add('pest.wasps.level', chance.one(['few', 'many']))
  if (chance.hit(0.02)) add('pest.ants.level', 'some')
}

function deeds(colony: Colony, bees: number, season: number, chance: Chance, add: Add): void {
  if (colony.honey < 2 && chance.hit(0.5)) {
    add('did.feed', chance.whole(1, 3))
    add('did.feed.kind', season < 0.6 ? 'syrup1to1' : 'syrup2to1')
    colony.honey += 1
  }
  if (bees > 7 && colony.supers < 3 && season < 0.6 && chance.hit(0.4)) {
    if (chance.hit(0.6)) {
      add('did.addBox', 'yes')
      colony.supers++
    } else add('todo.addBox', 'yes')
  }
  if (season > 0.5 && colony.honey > 6 && chance.hit(0.35)) {
    const frames = chance.whole(2, 6)
    add('did.takeHoney', frames)
    colony.honey -= frames
  }
  if (colony.mites > 3 && season > 0.6 && chance.hit(0.5)) {
    add('did.treat', 'yes')
    add('did.treat.kind', chance.one(['oxalicAcid', 'formicAcid', 'thymol', 'amitraz']))
    colony.mites /= 10
  }
  if (colony.beetles > 8 && chance.hit(0.3)) add('did.addTrap', 'yes')
  if (season > 0.85 && chance.hit(0.15)) add('did.reduceEntrance', 'yes')
  if (colony.temper === 'aggressive' && chance.hit(0.4)) add('todo.requeen', 'yes')
}

/** Three to five frames of the brood box, from the wall inwards. */
function goThrough(colony: Colony, brood: number, chance: Chance): HiveVisit['frames'] {
  const out: { frame: number; facts: Fact[] }[] = []
  const last = chance.whole(3, 5)
  for (let frame = 1; frame <= last; frame++) {
    const facts: Fact[] = []
    if (frame === 1) {
      facts.push({ field: 'frame.holds', value: 'honey', frame })
      const [a, b] = [chance.whole(3, 10) * 10, chance.whole(3, 10) * 10]
      if (chance.hit(0.7)) {
        facts.push({ field: 'honey.cappedPercent', value: a, frame, side: 'A' })
        facts.push({ field: 'honey.cappedPercent', value: b, frame, side: 'B' })
      }
    } else if (colony.queen !== 'laying' || brood < frame - 1)
      facts.push({ field: 'frame.holds', value: chance.one(['nectar', 'empty', 'pollen']), frame })
    else facts.push({ field: 'frame.holds', value: chance.one(['eggs', 'larvae', 'cappedBrood']), frame })
    out.push({ frame, facts })
  }
  return out
}
