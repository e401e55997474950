// Chance that a seed repeats.

/** Numbers in the half-open range 0..1 that depend on nothing but the seed's text (mulberry32 over an FNV-1a hash). */
export function randomFrom(seed) {
  let state = 0x811c9dc5
  for (const letter of seed) state = Math.imul(state ^ letter.codePointAt(0), 0x01000193)
  return () => {
    state = (state + 0x6d2b79f5) | 0
    let t = Math.imul(state ^ (state >>> 15), 1 | state)
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296
  }
}
