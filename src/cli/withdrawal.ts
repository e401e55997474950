import { type InspectionRecord, placedReadings } from '../record/schema.ts'
import { clean } from '../report/clean.ts'
import { sayHive } from '../report/words.ts'

/** A treatment whose withdrawal period is still to be written down: the label says it, nobody else may. */
export const withdrawalQuestion = (hive: string, ingredient: string | undefined): string =>
  `How long is the withdrawal period on the label of what ${clean(sayHive(hive))} was treated with${ingredient ? ` (${clean(ingredient)})` : ''}?`

/** The questions of one visit, by hive. */
export function withdrawalQuestions(record: InspectionRecord): Map<string, string> {
  const treated = new Map<string, string | undefined>()
  for (const { hive, reading } of placedReadings(record)) {
    const { field, value } = reading
    if (value === 'no' || !/^did\.treat(\.kind)?$/.test(field)) continue
    treated.set(hive, field === 'did.treat.kind' ? String(value) : treated.get(hive))
  }
  return new Map([...treated].map(([hive, ingredient]) => [hive, withdrawalQuestion(hive, ingredient)]))
}
