import type { Settings } from './settings.ts'
import type { SourceId } from './sources.ts'

/**
 * Water in honey (percent by mass) from a refractive index. Wedmore's constant is printed 1.73190 in old bar notation
 * (mantissa .73190, characteristic minus 1): the number is -0.26810.
 */
export function moistureAt(index: number, celsius = 20): number {
  const at20 = index + 0.00023 * (celsius - 20)
  return (-0.2681 - Math.log10(at20 - 1)) / 0.002243
}

/** No honey holds 2 % water, and no refractive index of honey reaches 2: the size tells which was read out. */
export const isIndex = (value: number): boolean => value > 1.4 && value < 1.6

/** Lochhead's classes: how many yeast cells a gram can keep for a year without fermenting. */
export function yeastAllowed(percent: number): 'any' | 1000 | 10 | 1 | 'none' {
  if (percent < 17.1) return 'any'
  if (percent <= 18) return 1000
  if (percent <= 19) return 10
  return percent <= 20 ? 1 : 'none'
}

export interface MoistureLimit {
  readonly most: number
  readonly words: string
  readonly source: SourceId
}

type Standard = NonNullable<Settings['honeyStandard']>

const limits: Record<Standard, { most: number; heather?: number; words: string; source: SourceId }> = {
  eu: { most: 20, heather: 23, words: 'EU honey directive', source: 'eu-2001-110' },
  codex: { most: 20, heather: 23, words: 'Codex standard', source: 'codex-12' },
  anz: { most: 21, words: 'Australia New Zealand food standard', source: 'anz-2-8-2' },
  us: { most: 18.6, words: 'US grades A and B', source: 'us-grades' },
  cz: { most: 18, words: 'Czech quality norm', source: 'brno-2014' },
}

const european = 'AT BE BG CY CZ DE DK EE ES FI FR GR HR HU IE IT LT LU LV MT NL PL PT RO SE SI SK'.split(' ')
export const isEuropean = (country: string | undefined): boolean => european.includes(country?.slice(0, 2) ?? '')

export function moistureLimit(settings: Settings): MoistureLimit {
  const country = settings.country?.slice(0, 2)
  let standard: Standard = 'codex'
  if (country === 'GB' || isEuropean(country)) standard = 'eu'
  else if (country === 'AU' || country === 'NZ') standard = 'anz'
  else if (country === 'US') standard = 'us'
  const limit = limits[settings.honeyStandard ?? standard]
  return {
    most: (settings.heather ? limit.heather : undefined) ?? limit.most,
    words: limit.words,
    source: limit.source,
  }
}

/** The US grade by moisture alone; other things decide the grade too. */
export const usGrade = (percent: number): 'A or B' | 'C' | 'substandard' =>
  percent <= 18.6 ? 'A or B' : percent <= 20 ? 'C' : 'substandard'
