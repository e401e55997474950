import type { Finding, Place } from '../rules/finding.ts'
import { nameOf } from '../rules/questions.ts'

/** A finding that an answer made, changed or dropped. */
export interface Change {
  readonly rule: string
  readonly place: Place
  /** The verdict before and now; null: there was, or is, no such finding. */
  readonly from: string | null
  readonly to: string | null
  /** It no longer rests on anything doubtful. */
  readonly settled: boolean
  /** One line: `hive 2 side B: now ready to take`. */
  readonly sentence: string
}

/** What is different between the findings before and after an answer. What only lost its doubt is a change as well. */
export function changesBetween(before: readonly Finding[], after: readonly Finding[]): Change[] {
  const old = new Map(before.map((finding) => [keyOf(finding), finding]))
  const out: Change[] = []
  for (const finding of after) {
    const was = old.get(keyOf(finding))
    old.delete(keyOf(finding))
    const settled = was?.provisional === true && !finding.provisional
    if (was?.verdict === finding.verdict && !(settled && isLoud(finding))) continue
    if (!was && !isLoud(finding)) continue
    out.push(changeOf(finding, was, settled))
  }
  for (const gone of old.values()) {
    if (!isLoud(gone)) continue
    const { rule, place, verdict, says } = gone
    const sentence = `${placeWords(place)}: no longer ${phrase(says.what)}`
    out.push({ rule, place, from: verdict, to: null, settled: false, sentence })
  }
  return out
}

const keyOf = ({ rule, place: { hive, box, frame, side } }: Finding): string =>
  JSON.stringify([rule, hive, box, frame, side])

/** It says something of the hive, and not only that there is nothing to say. */
const isLoud = ({ verdict }: Finding): boolean =>
  !['none', 'no', 'cannot tell', 'nothing due', 'nothing to count'].includes(verdict)

function changeOf(finding: Finding, was: Finding | undefined, settled: boolean): Change {
  const { rule, place, says, verdict } = finding
  const now = was?.verdict === verdict ? 'now certain:' : 'now'
  const before = was && was.says.what !== says.what ? ` (was: ${phrase(was.says.what)})` : ''
  const sentence = `${placeWords(place)}: ${now} ${phrase(says.what)}${before}`
  return { rule, place, from: was?.verdict ?? null, to: verdict, settled, sentence }
}

function placeWords({ hive, box, frame, side }: Place): string {
  const parts = [box, frame === null ? null : `frame ${frame}`, side === null ? null : `side ${side}`]
  return [hive === null ? 'whole visit' : nameOf(hive), ...parts].filter((part) => part !== null).join(' ')
}

/** A finding's own sentence within another: no capital at its beginning, no full stop. */
const phrase = (what: string): string =>
  what.replace(/^[A-Z](?=[a-z ])/, (first) => first.toLowerCase()).replace(/\.$/, '')
