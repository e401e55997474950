import { CombscribeError } from '../errors.ts'
import * as z from '../zod.ts'
import { type FrameType, frameTypes } from './frames.ts'

/**
 * What the rules take from the yard file. Everything is optional. Where a rule cannot do without a setting it answers
 * `cannot tell` and asks for it: no place, season or climate is guessed.
 */

const months = z.array(z.int().check(z.minimum(1), z.maximum(12)))

/** The `rules` part of the yard file: strict, so that a setting with a typing error is told and not passed over. */
export const ruleSettingsSchema = z.strictObject({
  /** Which moisture limit counts. Default: by country (EU, GB, IE: eu; AU, NZ: anz; US: us), otherwise codex. */
  honeyStandard: z.optional(z.enum(['eu', 'codex', 'anz', 'us', 'cz'])),
  /** Heather (Calluna) honey is judged by its own limit. Default false. */
  heather: z.optional(z.boolean()),
  /** Whose mite thresholds count. Default `default`: one value a season that most authorities share. */
  miteAuthority: z.optional(z.enum(['default', 'ontario', 'usdaArs', 'beeInformed', 'nsw'])),
  /** A refractometer that shows an index, read at this temperature (°C). Default: compensated, or read at 20. */
  refractometerTemperature: z.optional(z.number().check(z.minimum(0), z.maximum(45))),
  /** Months in which colonies swarm. Default April to July (north), October to January (south); tropics: all. */
  swarmMonths: z.optional(months),
  /** Months to get ready for winter. Default August to November (north), February to May (south). */
  autumnMonths: z.optional(months),
  /** Stores a colony needs for winter, kg. Default by climate: mild 15, temperate 20, cold 40, warm climates 10. */
  winterStoresKg: z.optional(z.number().check(z.positive())),
  /** Bees of a defensive stock live in this region. Default false. */
  defensiveStock: z.optional(z.boolean()),
  /** People or animals live close by. Default: not known. */
  neighboursNear: z.optional(z.boolean()),
  /** Small hive beetle lives here. Default: by country (AU, US: yes; GB, IE, NZ and the EU: no, and it must be told). */
  beetlesEstablished: z.optional(z.boolean()),
  /** Any number of the rulebook, by `<rule>.<name>`, for example `"side-ready.sealedEnough": 75`. */
  numbers: z.optional(z.record(z.string(), z.number())),
})
export type RuleSettings = z.infer<typeof ruleSettingsSchema>

const equipment = {
  broodFrame: z.optional(z.enum(frameTypes)),
  superFrame: z.optional(z.enum(frameTypes)),
  framesPerBox: z.optional(z.int().check(z.positive())),
}

/** The part of the yard file that rules look at; other parts of it are left alone. */
export const yardForRulesSchema = z.object({
  region: z.optional(
    z.object({
      units: z.optional(z.enum(['metric', 'imperial', 'us'])),
      hemisphere: z.optional(z.enum(['north', 'south'])),
      climate: z.optional(z.enum(['mild', 'temperate', 'cold', 'subtropical', 'tropical'])),
      country: z.optional(z.string()),
    }),
  ),
  equipment: z.optional(z.object(equipment)),
  hives: z.optional(z.array(z.object({ label: z.string(), ...equipment }))),
  rules: z.optional(ruleSettingsSchema),
})

/** A yard file's content as parsed; `judge` checks the parts that it needs. */
export type YardForRules = {
  readonly region?: object | undefined
  readonly equipment?: object | undefined
  readonly hives?: readonly object[] | undefined
  readonly rules?: object | undefined
}

export type Climate = 'mild' | 'temperate' | 'cold' | 'subtropical' | 'tropical'

/** Settings with what follows from them worked out. Absent means not known. */
export interface Settings extends RuleSettings {
  readonly country?: string
  readonly hemisphere?: 'north' | 'south'
  readonly climate?: Climate
  readonly units: 'metric' | 'imperial' | 'us'
  equipmentOf(hive: string): { broodFrame?: FrameType; superFrame?: FrameType; framesPerBox?: number }
}

const southern = ['AR', 'AU', 'BO', 'BW', 'CL', 'LS', 'MZ', 'NA', 'NZ', 'PY', 'SZ', 'UY', 'ZA', 'ZW']
const northern = ['CA', 'GB', 'IE', 'US', 'AT', 'BE', 'BG', 'CH', 'CY', 'CZ', 'DE', 'DK', 'EE', 'ES', 'FI', 'FR', 'GR']
northern.push(
  'HR',
  'HU',
  'IS',
  'IT',
  'JP',
  'LT',
  'LU',
  'LV',
  'MT',
  'NL',
  'NO',
  'PL',
  'PT',
  'RO',
  'SE',
  'SI',
  'SK',
  'TR',
)

/** Throws `bad-yard` naming the entry when the yard's part for the rules cannot be used. */
export function openSettings(yard: YardForRules | undefined, knownNumbers: ReadonlySet<string>): Settings {
  const parsed = yardForRulesSchema.safeParse(yard ?? {})
  if (!parsed.success) {
    const issue = parsed.error.issues[0]!
    throw new CombscribeError(
      'bad-yard',
      issue.message,
      `yard setting ${issue.path.join('.')}`,
      'change it or leave it out',
    )
  }
  const { region, equipment, hives, rules } = parsed.data
  for (const name of Object.keys(rules?.numbers ?? {})) {
    if (knownNumbers.has(name)) continue
    throw new CombscribeError(
      'bad-yard',
      `no rule has a number to set called "${name}"`,
      'yard setting rules.numbers',
      'see `combscribe rules`',
    )
  }
  const country = region?.country?.slice(0, 2)
  const hemisphere = region?.hemisphere ?? hemisphereOf(country)
  const byHive = new Map((hives ?? []).map((hive) => [hive.label, hive]))
  const known = (from: object) => Object.fromEntries(Object.entries(from).filter(([, value]) => value !== undefined))
  return {
    ...rules,
    ...(region?.country ? { country: region.country } : {}),
    ...(hemisphere ? { hemisphere } : {}),
    ...(region?.climate ? { climate: region.climate } : {}),
    units: region?.units ?? 'metric',
    equipmentOf: (hive) => {
      const { broodFrame, superFrame, framesPerBox } = byHive.get(hive) ?? {}
      return { ...known(equipment ?? {}), ...known({ broodFrame, superFrame, framesPerBox }) }
    },
  }
}

function hemisphereOf(country: string | undefined): 'north' | 'south' | undefined {
  if (!country) return undefined
  if (southern.includes(country)) return 'south'
  return northern.includes(country) ? 'north' : undefined
}
