/** Numbers are whole steps between -REACH and REACH. */
const REACH = 44
/** The letter of the lowest; the backslash and the quote are left out. */
const LOWEST = 35

/** A list of numbers as text: the size of a step, a blank, and a letter a number. */
export function packNumbers(list: Float32Array): string {
  const sum = list.reduce((all, x) => all + x * x, 0)
  const most = list.reduce((max, x) => Math.max(max, Math.abs(x)), 1e-6)
  // the few that are far out are cut, so that the many are told apart
  const step = Number((Math.min(4.5 * Math.sqrt(sum / Math.max(1, list.length)), most) / REACH).toPrecision(4))
  let out = `${step} `
  for (const x of list) {
    const code = LOWEST + REACH + Math.max(-REACH, Math.min(REACH, Math.round(x / step)))
    out += String.fromCharCode(code + (code >= 92 ? 1 : 0))
  }
  return out
}

/** The list again, each number within half a step of what it was unless it was cut. */
export function unpackNumbers(text: string): Float32Array {
  const cut = text.indexOf(' ')
  const step = Number(text.slice(0, cut))
  const out = new Float32Array(text.length - cut - 1)
  for (let i = 0; i < out.length; i++) {
    const code = text.charCodeAt(cut + 1 + i)
    out[i] = step * (code - (code > 92 ? 1 : 0) - LOWEST - REACH)
  }
  return out
}

/** Words with blanks between, in the order of their rows, which begin with 1. */
export const packWords = (words: ReadonlyMap<string, number>): string =>
  [...words]
    .sort((a, b) => a[1] - b[1])
    .map(([name]) => name)
    .join(' ')
export const unpackWords = (text: string): Map<string, number> =>
  new Map(text.split(' ').map((name, i) => [name, i + 1]))

/** Several lists of numbers by name. */
export const packLists = <K extends string>(names: readonly K[], from: Readonly<Record<K, Float32Array>>) =>
  Object.fromEntries(names.map((name) => [name, packNumbers(from[name])] as const)) as Record<K, string>
export const unpackLists = <K extends string>(names: readonly K[], from: Readonly<Record<K, string>>) =>
  Object.fromEntries(names.map((name) => [name, unpackNumbers(from[name])] as const)) as Record<K, Float32Array>
