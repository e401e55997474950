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

/** Puts a list into an order by chance, in place (Fisher & Yates). */
export function shuffle(list, random) {
  for (let i = list.length - 1; i > 0; i--) {
    const j = Math.floor(random() * (i + 1))
    ;[list[i], list[j]] = [list[j], list[i]]
  }
}

/** A list of so many normally distributed numbers (Box & Muller). */
export const normals = (size, spread, random) =>
  Float32Array.from(
    { length: size },
    () => spread * Math.sqrt(-2 * Math.log(random() + 1e-12)) * Math.cos(2 * Math.PI * random()),
  )

/** The rows of those things that were seen often enough, by name from 1 on; 0 is left for all others. */
export const rowsOfSeen = (seen, least) =>
  new Map(
    [...seen.keys()]
      .filter((name) => seen.get(name) >= least)
      .sort()
      .map((name, i) => [name, i + 1]),
  )
