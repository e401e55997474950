import { type InspectionRecord, placedReadings, type Reading } from '../record/schema.ts'
import { clean } from '../report/clean.ts'
import { sayHive, sayValue } from '../report/words.ts'

/** A treatment that was given, with what was said of it. */
export interface Treatment {
  readonly hive: string
  /** All that was said of it, in the order of the record. */
  readonly readings: readonly Reading[]
  readonly ingredient: string | undefined
  /** How long honey is not to be taken, as the label says; undefined while nobody has looked. */
  readonly withdrawal: string | undefined
}

/** The treatments of one visit. */
export function treatmentsOf(record: InspectionRecord): Treatment[] {
  const groups = new Map<string, { hive: string; readings: Reading[] }>()
  const periods: { hive: string; reading: Reading }[] = []
  for (const { hive, reading } of placedReadings(record)) {
    if (reading.field === 'did.treat.withdrawal') periods.push({ hive, reading })
    if (reading.value === 'no' || !/^did\.treat(\.kind|\.amount)?$/.test(reading.field)) continue
    const key = `${hive}|${reading.entry ?? ''}`
    const group = groups.get(key)
    if (group) group.readings.push(reading)
    else groups.set(key, { hive, readings: [reading] })
  }
  const all = [...groups.values()]
  return all.map(({ hive, readings }) => {
    const isOnly = all.filter((one) => one.hive === hive).length === 1
    const period = periods.find(
      (one) => one.hive === hive && (isOnly || readings.some((reading) => overlap(reading, one.reading))),
    )
    const kind = readings.find(({ field }) => field === 'did.treat.kind')
    return {
      hive,
      readings,
      ingredient: kind && String(kind.value),
      withdrawal: period && String(period.reading.value),
    }
  })
}

const overlap = (a: Reading, b: Reading): boolean => a.start < b.end && b.start < a.end

/** A treatment whose withdrawal period is still to be written down: the label says it, nobody else may. */
export const withdrawalQuestion = ({ hive, ingredient }: Pick<Treatment, 'hive' | 'ingredient'>): string =>
  `How long is the withdrawal period on the label of what ${clean(sayHive(hive))} was treated with${ingredient ? ` (${clean(sayValue(ingredient, null))})` : ''}?`

/** The questions of one visit that have no answer yet, by hive. */
export function withdrawalQuestions(record: InspectionRecord): Map<string, string[]> {
  const out = new Map<string, string[]>()
  for (const treatment of treatmentsOf(record)) {
    const { hive, withdrawal } = treatment
    if (withdrawal === undefined) out.set(hive, [...(out.get(hive) ?? []), withdrawalQuestion(treatment)])
  }
  return out
}
