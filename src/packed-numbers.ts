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
