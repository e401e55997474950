import type { Season } from './season.ts'
import type { Settings } from './settings.ts'
import type { SourceId } from './sources.ts'

/** Mites per 100 bees at which to watch and to act, and in whose words. */
export interface MiteThreshold {
  readonly watch: number
  readonly act: number
  readonly source: SourceId
  readonly words: string
}

type Authority = NonNullable<Settings['miteAuthority']>

/**
 * Red in spring is Ontario's act value; from midsummer 3 is shared by Ontario, USDA-ARS and the Bee Informed Partnership,
 * with amber one lower so that a keeper has time. New South Wales gives mites in a 300-bee wash of a broodless colony: 3
 * (1 per 100) ends its waiting band. The season's value is the strictest one where the season is not known.
 */
export function miteThreshold(season: Season | undefined, settings: Settings, broodless: boolean): MiteThreshold {
  const authority: Authority = settings.miteAuthority ?? 'default'
  const early = season === undefined || season === 'spring' || season === 'winter'
  if (authority === 'ontario')
    return early
      ? { watch: 1, act: 2, source: 'ontario-mites', words: 'Ontario ministry, May' }
      : { watch: 2, act: 3, source: 'ontario-mites', words: 'Ontario ministry, August' }
  if (authority === 'usdaArs') return { watch: 2, act: 3, source: 'gilroy-mites', words: 'USDA-ARS, any season' }
  if (authority === 'beeInformed')
    return early
      ? { watch: 0.5, act: 1, source: 'bip-2018', words: 'Bee Informed Partnership, spring' }
      : { watch: 2, act: 3, source: 'bip-2018', words: 'Bee Informed Partnership, autumn' }
  if (authority === 'nsw')
    return { watch: 1, act: 2, source: 'nsw-mites', words: 'New South Wales, 3 mites in 300 bees' }
  if (broodless) return { watch: 1, act: 2, source: 'nsw-mites', words: 'colony without brood' }
  return early
    ? {
        watch: 1,
        act: 2,
        source: 'ontario-mites',
        words: season ? 'build-up' : 'strictest of the year, as the season is not known',
      }
    : { watch: 2, act: 3, source: 'ontario-mites', words: 'from midsummer to autumn' }
}

/** Mites a day on a board. Authorities disagree (9 to 40); the strictest published act values are taken. */
export function boardThreshold(season: Season | undefined, settings: Settings): MiteThreshold {
  if (settings.miteAuthority === 'usdaArs') return { watch: 15, act: 30, source: 'gilroy-mites', words: 'USDA-ARS' }
  const late = season === 'summer' || season === 'autumn'
  return late
    ? { watch: 9, act: 12, source: 'ontario-mites', words: 'Ontario ministry, August' }
    : { watch: 5, act: 9, source: 'ontario-mites', words: 'Ontario ministry, May' }
}
