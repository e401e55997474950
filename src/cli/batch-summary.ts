import { distance } from 'fastest-levenshtein'
import type { Logbook } from '../logbook/logbook.ts'
import { clean } from '../report/style.ts'
import { sayHive } from '../report/words.ts'
import type { Finding } from '../rules/finding.ts'

/** A note that a run has written. */
export interface Written {
  readonly id: number
  readonly path: string
  readonly date: string
  readonly hives: readonly string[]
}

/**
 * What a run's notes say that is urgent, the latest first, and what needs an answer. An alarm is never hidden by a later
 * note; a question is asked of each hive's last visit alone.
 */
export async function wanting(
  book: Logbook,
  written: readonly Written[],
): Promise<{ urgent: string[]; questions: string[] }> {
  const urgent: string[] = []
  const latest = new Map<string | null, string[]>()
  const inOrder = [...written].sort((a, b) => (a.date + a.path < b.date + b.path ? -1 : 1))
  for (const { id, date, hives } of inOrder) {
    const findings = await book.findings(id)
    const say = ({ place }: Finding, words: string) =>
      `  ${date}  ${place.hive === null ? 'the visit' : sayHive(place.hive)}: ${clean(words)}`
    const visited = [null, ...hives]
    for (const hive of new Set([...visited, ...findings.map(({ place }) => place.hive)])) {
      const own = findings.filter(({ place }) => place.hive === hive)
      urgent.push(...own.filter(({ verdict }) => verdict === 'urgent').map((one) => say(one, one.says.what)))
      if (!visited.includes(hive)) continue
      const open = own.flatMap((one) => one.missing.map((missing) => ({ one, missing })))
      latest.set(
        hive,
        open.filter(({ missing }) => missing.priority === 'first').map(({ one, missing }) => say(one, missing.ask)),
      )
    }
  }
  return { urgent: urgent.reverse(), questions: [...new Set([...latest.values()].flat())] }
}

/** New labels within two letters of one that is settled. Numbers differ on purpose. */
export function nearLabels(labels: readonly string[], settled: ReadonlySet<string>): string[] {
  const isName = (label: string) => label.length >= 4 && !/\d/.test(label)
  return labels.flatMap((label) => {
    if (settled.has(label) || !isName(label)) return []
    const near = [...settled].find((old) => isName(old) && distance(old, label) <= 2)
    if (!near) return []
    return `  "${clean(label)}" is new and near to "${clean(near)}": if it is the same, add it to "said" in the yard file`
  })
}
