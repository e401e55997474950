import { monthOf } from './calendar.ts'
import type { Settings } from './settings.ts'

export type Season = 'spring' | 'summer' | 'autumn' | 'winter'

/**
 * Meteorological seasons; where winters are mild spring begins a month early. Undefined where date or hemisphere are not
 * known, and in the tropics, which have none.
 */
export function seasonOf(date: string | null, settings: Settings): Season | undefined {
  if (!date || !settings.hemisphere || settings.climate === 'tropical') return undefined
  const month = northernMonth(date, settings.hemisphere)
  const spring = hasMildWinter(settings) ? 2 : 3
  if (month >= spring && month <= 5) return 'spring'
  if (month >= 6 && month <= 8) return 'summer'
  return month >= 9 && month <= 11 ? 'autumn' : 'winter'
}

/** Whether colonies may swarm now: April to July in the north, six months later in the south (common practice). */
export function isSwarmSeason(date: string | null, settings: Settings): boolean | undefined {
  if (!date) return undefined
  if (settings.swarmMonths) return settings.swarmMonths.includes(monthOf(date))
  if (settings.climate === 'tropical') return true
  if (!settings.hemisphere) return undefined
  const month = northernMonth(date, settings.hemisphere)
  const from = hasMildWinter(settings) ? 3 : 4
  return month >= from && month <= 7
}

/** Whether it is time to get colonies ready for winter: August to November in the north (common practice). */
export function isAutumn(date: string | null, settings: Settings): boolean | undefined {
  if (!date) return undefined
  if (settings.autumnMonths) return settings.autumnMonths.includes(monthOf(date))
  if (settings.climate === 'tropical') return false
  if (!settings.hemisphere) return undefined
  const month = northernMonth(date, settings.hemisphere)
  return month >= 8 && month <= 11
}

const northernMonth = (date: string, hemisphere: 'north' | 'south') =>
  hemisphere === 'north' ? monthOf(date) : ((monthOf(date) + 5) % 12) + 1

const hasMildWinter = ({ climate }: Settings) => climate === 'mild' || climate === 'subtropical'
