// Chance that a seed repeats.

/** Numbers in the half-open range 0..1 that depend on nothing but the seed's text (mulberry32 over an FNV-1a hash). */
export function randomFrom(seed) {
  let hash = 0x811c9dc5
  for (const letter of seed) hash = Math.imul(hash ^ letter.codePointAt(0), 0x01000193)
  return randomOf(hash)
}

/** The same of a whole number (mulberry32). */
export function randomOf(number) {
  let state = number
  return () => {
    state = (state + 0x6d2b79f5) | 0
    let t = Math.imul(state ^ (state >>> 15), 1 | state)
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296
  }
}
