import { plainNumberAt } from './amounts.ts'
import { weighedWords } from './borders.ts'
import { Break, NO_CALL, type Word } from './word.ts'

/** Tells from the whole of some talk which words name a hive that is called (`name-net.ts`; the page gets it after its first load). */
export interface NameReader {
  /** For each word the log odds that a hive is called by a name or number that begins with it, and by one that goes on with it. */
  odds(words: readonly string[]): { readonly begins: ArrayLike<number>; readonly goesOn: ArrayLike<number> }
}

/** Puts on each word how likely it calls a hive. */
export function markNames(words: readonly Word[], names: NameReader): void {
  const at = weighedWords(words)
  const { begins, goesOn } = names.odds(at.map((i) => words[i]!.norm))
  at.forEach((i, k) => {
    words[i]!.calls = begins[k]!
    words[i]!.callsOn = goesOn[k]!
  })
}

/** From these log odds on words may name a hive. */
const MAY = -3.5
/** From these on a word may be part of the name that began before it, and from these on it must. */
const [MAY_GO_ON, MUST_GO_ON] = [-2.2, 1]
/** A name has so many words at most. */
const LONGEST = 4

/** Words that may name a hive by where they stand in the talk, and their labels: the shortest first. Numbers alone are found without. */
export function namedAt(words: readonly Word[], from: number): { to: number; label: string }[] {
  if (words[from]!.calls < MAY) return []
  const out: { to: number; label: string }[] = []
  for (let to = from + 1; to <= from + LONGEST; to++) {
    const next = words[to]
    const goesOn = next && next.brk < Break.hard ? next.callsOn : NO_CALL
    const here = goesOn < MUST_GO_ON ? labelled(words, from, to) : null
    if (here && !out.some(({ label }) => label === here.label)) out.push(here)
    if (goesOn < MAY_GO_ON) break
  }
  return out
}

/** The label that words give a hive: "charlie two" is "charlie 2", "a eight" "a8", "two b" "2b". */
function labelled(words: readonly Word[], from: number, to: number): { to: number; label: string } | null {
  let label = ''
  let hasName = false
  let wasNumber = false
  let end = from
  while (end < to) {
    const number = plainNumberAt(words, end)
    const said = number ? String(number.n) : words[end]!.norm
    const isJoined =
      label === '' || said === "'s" || (number ? /^[a-z]{1,3}$/.test(label) : wasNumber && said.length === 1)
    label += isJoined ? said : ` ${said}`
    hasName ||= number === undefined
    wasNumber = number !== undefined
    end = number ? number.end : end + 1
  }
  return hasName && !/^('s|'|hive|the|a hive)$/.test(label) ? { to: end, label } : null
}
