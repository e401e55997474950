import type { HiveView, Placed } from './hive-view.ts'
import { readings, says } from './look.ts'
import { isEuropean } from './moisture.ts'

/** Signs that a brood disease which must be told may be there. None of them names the disease for certain. */
export const graveSigns = [
  'americanFoulbrood',
  'europeanFoulbrood',
  'ropyLarvae',
  'sunkenCappings',
  'foulSmell',
] as const

export interface DiseaseSigns {
  readonly grave: readonly Placed[]
  /** Signs that were looked for and denied. */
  readonly denied: readonly Placed[]
}

export function diseaseSigns(hive: HiveView): DiseaseSigns {
  const grave: Placed[] = []
  const denied: Placed[] = []
  for (const sign of graveSigns) {
    const said = says(hive, `sign.${sign}`)
    if (said.is === true) grave.push(...said.by)
    if (said.is === false) denied.push(...said.by)
  }
  return { grave, denied }
}

export const hasGraveSigns = (hive: HiveView): boolean => diseaseSigns(hive).grave.length > 0

/** Whom to tell, by country; always the inspector where the rules do not know the law. */
export function whomToTell(country: string | undefined): string {
  const land = country?.slice(0, 2)
  if (land === 'AU') return 'your state apiary officer, or the hotline 1800 084 881'
  if (land === 'NZ') return 'the AFB agency, or the biosecurity hotline 0800 809 966'
  if (land === 'GB') return 'the National Bee Unit or your regional bee inspector'
  if (land === 'US') return 'your state apiary inspector'
  if (land === 'CA') return 'your provincial apiarist'
  if (isEuropean(land)) return 'your official veterinarian or bee inspector'
  return 'your bee inspector or agriculture department'
}

/** Whether small hive beetle must be told at once because it does not live there; undefined where not known. */
export function beetlesForeign(hive: HiveView): boolean | undefined {
  const { beetlesEstablished, country } = hive.settings
  if (beetlesEstablished !== undefined) return !beetlesEstablished
  const land = country?.slice(0, 2)
  if (!land) return undefined
  if (land === 'US' || land === 'AU') return false
  return land === 'GB' || land === 'NZ' || isEuropean(land) ? true : undefined
}

/** Words about mites that run fast over the comb: not varroa. */
export const runningMites = (hive: HiveView): readonly Placed[] => [
  ...readings(hive, 'pest.tropilaelaps.present').filter((placed) => placed.value === 'yes'),
  ...readings(hive, 'sign.runningMites').filter((placed) => placed.value === 'yes'),
]
