import { distance } from 'fastest-levenshtein'

/**
 * The settled label that another one was probably meant for: within two letters of it, or the same but for what a
 * recogniser puts around a name ("olives", "olive hive"). Numbers differ on purpose.
 */
export function nearLabel(label: string, settled: Iterable<string>): string | undefined {
  if (!isName(label)) return undefined
  const heard = bare(label)
  let best: { label: string; by: number } | undefined
  for (const one of settled) {
    if (one === label || !isName(one)) continue
    const by = bare(one) === heard ? 0 : distance(one, label)
    if (by <= 2 && by < (best?.by ?? 3)) best = { label: one, by }
  }
  return best?.label
}

const isName = (label: string): boolean => label.length >= 4 && !/\d/.test(label)
const bare = (label: string): string => label.replace(/^the |'?s?( hive| colony)?$/g, '')

/**
 * Labels of one note that are probably another hive's: not in the yard file, in few notes, and near to one that is in the
 * yard file or in more notes. `notes`: how many notes speak of each label.
 */
export function doubtfulLabels(
  labels: readonly string[],
  notes: ReadonlyMap<string, number>,
  yard: readonly string[],
  /** Whether a keeper said that two are not the same. */
  apart: (one: string, other: string) => boolean = () => false,
): { label: string; near: string }[] {
  return labels.flatMap((label) => {
    const own = notes.get(label) ?? 0
    if (yard.includes(label) || own > fewNotes) return []
    const settled = [...yard, ...[...notes].filter(([, count]) => count > own).map(([one]) => one)]
    const near = nearLabel(
      label,
      settled.filter((one) => !apart(label, one)),
    )
    return near === undefined ? [] : [{ label, near }]
  })
}

/** A label that was used in more notes than these is a hive of its own. */
const fewNotes = 2
