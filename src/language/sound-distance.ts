/**
 * How far one string of sounds (`sounds.ts`) is from another for a listener: edit distance in which near sounds cost
 * little. The costs of letters: what differs in voice, place or manner of speaking; of vowels: how far apart they are
 * said in the mouth. Common practice in phonetics; no measured table is behind the single numbers.
 */
const CONSONANTS: Readonly<Record<string, readonly [place: number, manner: number, voice: number]>> = {
  p: [0, 0, 0],
  b: [0, 0, 1],
  t: [3, 0, 0],
  d: [3, 0, 1],
  k: [6, 0, 0],
  g: [6, 0, 1],
  f: [1, 1, 0],
  v: [1, 1, 1],
  T: [2, 1, 0],
  D: [2, 1, 1],
  s: [3, 1, 0],
  z: [3, 1, 1],
  S: [4, 1, 0],
  Z: [4, 1, 1],
  c: [4, 2, 0],
  j: [4, 2, 1],
  h: [7, 1, 0],
  m: [0, 3, 1],
  n: [3, 3, 1],
  N: [6, 3, 1],
  l: [3, 4, 1],
  r: [4, 4, 1],
  w: [0, 5, 1],
  y: [5, 5, 1],
}
/** Height and frontness of the vowel, and where a diphthong glides to. */
const VOWELS: Readonly<Record<string, readonly [high: number, front: number, endHigh: number, endFront: number]>> = {
  Y: [3, 2, 3, 2],
  i: [2.5, 1.8, 2.5, 1.8],
  e: [1.5, 2, 1.5, 2],
  A: [0.5, 1.8, 0.5, 1.8],
  a: [0, 0.5, 0, 0.5],
  o: [1, 0, 1, 0],
  u: [1.3, 1, 1.3, 1],
  U: [2.5, 0.3, 2.5, 0.3],
  V: [3, 0, 3, 0],
  R: [1.5, 0.9, 1.5, 0.9],
  E: [1.6, 2, 2.8, 2],
  I: [0.2, 0.8, 2.6, 1.8],
  W: [0.2, 0.8, 2.5, 0.2],
  O: [1.5, 0, 2.7, 0],
  Q: [1, 0, 2.6, 1.8],
}
/** A vowel that is nearly a consonant. */
const HALF: Readonly<Record<string, string>> = { r: 'R', y: 'Y', w: 'V' }
const MANNERS = [
  [0, 0.35, 0.3, 0.55, 0.7, 0.7],
  [0.35, 0, 0.2, 0.6, 0.6, 0.6],
  [0.3, 0.2, 0, 0.7, 0.7, 0.6],
  [0.55, 0.6, 0.7, 0, 0.4, 0.5],
  [0.7, 0.6, 0.7, 0.4, 0, 0.3],
  [0.7, 0.6, 0.6, 0.5, 0.3, 0],
]

const SOUNDS = 'aAuoWIeREiYOQUVbcdDfghjklmnNprsStTvwyzZ'
const SIZE = SOUNDS.length

function unlikeness(a: string, b: string): number {
  if (a === b) return 0
  const [ca, cb] = [CONSONANTS[a], CONSONANTS[b]]
  if (ca && cb)
    return Math.min(
      1,
      Math.min(0.45, Math.abs(ca[0] - cb[0]) * 0.15) + MANNERS[ca[1]]![cb[1]]! + Math.abs(ca[2] - cb[2]) * 0.2,
    )
  const [va, vb] = [VOWELS[a], VOWELS[b]]
  if (va && vb) {
    const start = Math.hypot(va[0] - vb[0], (va[1] - vb[1]) * 0.8)
    const end = Math.hypot(va[2] - vb[2], (va[3] - vb[3]) * 0.8)
    return Math.min(0.8, 0.12 + 0.14 * (start + end))
  }
  return HALF[a] === b || HALF[b] === a ? 0.4 : 1.2
}

const loss = (sound: string): number =>
  VOWELS[sound] ? (/[uiR]/.test(sound) ? 0.5 : 0.75) : /[htdnlrszwy]/.test(sound) ? 0.6 : 0.8

const SUBSTITUTED = new Float64Array(SIZE * SIZE)
const LOST = new Float64Array(SIZE)
for (let i = 0; i < SIZE; i++) {
  LOST[i] = loss(SOUNDS[i]!)
  for (let j = 0; j < SIZE; j++) SUBSTITUTED[i * SIZE + j] = unlikeness(SOUNDS[i]!, SOUNDS[j]!)
}

const CODES = new Map([...SOUNDS].map((sound, code) => [sound, code]))

/** Sounds without those that there are none of. */
export const knownSounds = (sounds: string): string => [...sounds].filter((sound) => CODES.has(sound)).join('')

/** Sounds as numbers, for `soundDistance`; sounds that there are none of are left out. */
export const soundCodes = (sounds: string): Uint8Array =>
  Uint8Array.from(knownSounds(sounds), (sound) => CODES.get(sound)!)

/** Groups of sounds that are heard for one another, one bit each. */
const GROUPS = ['pb', 'td', 'kg', 'fv', 'TDsz', 'SZcj', 'mnN', 'l', 'rR', 'wVU', 'yYi', 'eEA', 'aou', 'OQWI', 'h']
const BIT = Uint16Array.from([...SOUNDS], (sound) => 1 << GROUPS.findIndex((group) => group.includes(sound)))

/** Which groups of sounds occur, as bits: strings whose bits differ in many places cannot be near. */
export function soundBits(codes: Uint8Array): number {
  let bits = 0
  for (const code of codes) bits |= BIT[code]!
  return bits
}

let above = new Float64Array(64)
let row = new Float64Array(64)

/** The distance of two strings of sounds; `Infinity` as soon as it must be above `most`. */
export function soundDistance(a: Uint8Array, b: Uint8Array, most = Number.POSITIVE_INFINITY): number {
  if (b.length + 1 > row.length) {
    above = new Float64Array(b.length * 2)
    row = new Float64Array(b.length * 2)
  }
  above[0] = 0
  for (let j = 0; j < b.length; j++) above[j + 1] = above[j]! + LOST[b[j]!]!
  for (let i = 0; i < a.length; i++) {
    const at = a[i]! * SIZE
    const lost = LOST[a[i]!]!
    let least = above[0]! + lost
    row[0] = least
    for (let j = 0; j < b.length; j++) {
      const cost = Math.min(above[j]! + SUBSTITUTED[at + b[j]!]!, above[j + 1]! + lost, row[j]! + LOST[b[j]!]!)
      row[j + 1] = cost
      if (cost < least) least = cost
    }
    if (least > most) return Number.POSITIVE_INFINITY
    const swap = above
    above = row
    row = swap
  }
  const total = above[b.length]!
  return total > most ? Number.POSITIVE_INFINITY : total
}
