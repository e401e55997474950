/**
 * How common a word is in talk at hives, and how many notes call a hive by it, in steps: "overall" stands where a hive may be called,
 * but so many notes say it without calling one that it hardly does. Counted from the labelled notes (`npm run hives`).
 */
export interface HowCommon {
  readonly common: number
  readonly name: number
}
/** Undefined for a word that is neither. */
export type CommonWords = (word: string) => HowCommon | undefined

/** So many notes, from which each step on counts; fewer tell nothing. */
const STEPS = { common: [2, 4, 8, 16, 32], name: [1, 2, 3] } as const
/** The step of a number of notes. */
export const stepOf = (what: keyof typeof STEPS, notes: number): number =>
  STEPS[what].filter((least) => notes >= least).length

/** Words as `common-words.json` keeps them: for each pair of steps those that are so common, with blanks between. */
export type PackedCommonWords = Readonly<Record<string, string>>

export function packCommonWords(words: ReadonlyMap<string, HowCommon>): PackedCommonWords {
  const out: Record<string, string> = {}
  for (const [word, { common, name }] of [...words].sort((a, b) => (a[0] < b[0] ? -1 : 1)))
    if (common > 0 || name > 0) out[`${common} ${name}`] = `${out[`${common} ${name}`] ?? ''} ${word}`.trim()
  return Object.fromEntries(Object.entries(out).sort((a, b) => (a[0] < b[0] ? -1 : 1)))
}

/** The cues of a label by words as they are kept. */
export function commonWords(packed: PackedCommonWords): (label: string) => string[] {
  let words: Map<string, HowCommon> | undefined
  const known = (word: string): HowCommon | undefined => {
    words ??= unpack(packed)
    return words.get(word)
  }
  return (label) => cuesOfWords(label, known)
}

function unpack(packed: PackedCommonWords): Map<string, HowCommon> {
  const words = new Map<string, HowCommon>()
  for (const [steps, list] of Object.entries(packed)) {
    const [common = 0, name = 0] = steps.split(' ').map(Number)
    const how = { common, name }
    for (const one of list.split(' ')) words.set(one, how)
  }
  return words
}

const NEITHER: HowCommon = { common: 0, name: 0 }

/** The cues that the words of a label give a call: the rarest of them tells most, and the last ("old wicker"). */
export function cuesOfWords(label: string, known: CommonWords): string[] {
  const words = /^nuc \d/.test(label) ? null : label.match(/\p{L}{2,}/gu)
  if (!words) return []
  const all = words.map((word) => known(word) ?? NEITHER)
  const common = Math.min(...all.map((one) => one.common))
  const name = Math.max(...all.map((one) => one.name))
  const cues = [`common ${common}`, `name ${name}`, `common ${common} name ${name}`]
  if (all.length > 1) cues.push(`common at last ${all[all.length - 1]!.common}`)
  return cues
}
