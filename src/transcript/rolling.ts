import type { Cue } from './cues.ts'
import { readMarkup } from './markup.ts'

/**
 * Automatic captions that roll show every line two or three times: as it is built up, held for a moment, and again above
 * the next line. In such a file the leading lines that repeat the end of the cue before are dropped. A file that does
 * not roll is left alone, and a repetition that the speaker made ("Yes." "Yes.") is a line of its own in either.
 */
export function unroll(cues: readonly Cue[]): Cue[] {
  const shown = cues.map((cue) => cue.payload.split('\n').filter((line) => readMarkup(line).text.trim() !== ''))
  const plain = shown.map((lines) => lines.map((line) => readMarkup(line).text.trim()))
  const repeated = plain.map((lines, index) => overlap(lastShown(plain, index), lines))
  const rolls = repeated.filter((count, index) => count > 0 && plain[index]!.length > count).length
  const tall = plain.filter((lines) => lines.length > 1).length
  if (rolls < 2 || rolls * 2 < tall) return [...cues]
  const kept: Cue[] = []
  for (const [index, cue] of cues.entries()) {
    const fresh = shown[index]!.slice(repeated[index])
    if (fresh.length > 0) kept.push({ ...cue, payload: fresh.join('\n') })
  }
  return kept
}

/** The lines of the nearest earlier cue that has any. */
function lastShown(plain: readonly (readonly string[])[], index: number): readonly string[] {
  for (let i = index - 1; i >= 0 && i >= index - 3; i--) if (plain[i]!.length > 0) return plain[i]!
  return []
}

/** How many lines at the end of `before` are the lines at the start of `lines`. */
function overlap(before: readonly string[], lines: readonly string[]): number {
  for (let count = Math.min(before.length, lines.length); count > 0; count--) {
    if (lines.slice(0, count).every((line, i) => line === before[before.length - count + i])) return count
  }
  return 0
}
