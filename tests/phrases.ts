import type { FlatReading } from '../src/record/schema.ts'

/** Tables of single phrases (fixtures/phrases): `said => @hive field=value; …`, one a line; `-` means no reading. */

export interface PhraseLine {
  readonly said: string
  /** `hive|field|value`, sorted. */
  readonly facts: readonly string[]
}

/** Fields that are newer than the labelled notes: the tables leave them out but where a line asks for them. */
export const NEWER =
  /^(brood\.present|colony\.dead|honey\.(moisture|shake|taken)|pest\.\w+\.present|queen\.(event|year|origin)|(did|todo)\.\w+\.(amount|when)|(did|todo)\.(emptyTrap|addMouseGuard|wrap|removeTreatment|removeFeeder|releaseQueen|sendSample|callInspector|extract|closeEntrance|addClearer|removeClearer|addTestFrame|giveCell|hiveSwarm|killQueen|report)|moved\.(from|to)|stings|weight\.gross|mites\.days|queenright|pollen\.comingIn|drones\.present|trend)$/

const fact = (hive: string, field: string, value: string): string => `${hive}|${field}|${value}`

export function phraseLines(table: string): PhraseLine[] {
  const out: PhraseLine[] = []
  for (const row of table.split('\n')) {
    if (row.trim() === '' || row.startsWith('#')) continue
    const cut = row.lastIndexOf(' => ')
    if (cut < 0) throw new Error(`a phrase without " => ": ${row}`)
    const wanted = row.slice(cut + 4).trim()
    const facts =
      wanted === '-'
        ? []
        : wanted.split(';').map((part) => {
            const [, hive = '', field = '', value = ''] = /^(?:@(.+) )?([\w.]+)=(.+)$/.exec(part.trim()) ?? []
            if (field === '') throw new Error(`"${part.trim()}" is no field=value: ${row}`)
            return fact(hive, field, value)
          })
    out.push({ said: row.slice(0, cut), facts: facts.sort() })
  }
  return out
}

/**
 * What was read, in the form of the tables. Values that were worked out count only where the line asks for them, contents
 * of frames only where the line speaks of them or of nothing at all.
 */
export function factsRead(readings: readonly FlatReading[], wanted: readonly string[]): string[] {
  const holds = wanted.length === 0 || wanted.some((w) => w.includes('|frame.holds|'))
  const out: string[] = []
  for (const r of readings) {
    if (
      (NEWER.test(r.field) && !wanted.some((w) => w.includes(`|${r.field}|`))) ||
      (!holds && r.field === 'frame.holds')
    )
      continue
    const value = Array.isArray(r.value) ? `[${r.value.join(',')}]` : String(r.value)
    const read = fact(r.hive, r.field, value)
    if (r.how === 'derived' && !wanted.includes(read)) continue
    out.push(read)
  }
  return out.sort()
}
