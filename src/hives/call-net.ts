import { packLists, packWords, unpackLists, unpackWords } from '../packed-numbers.ts'
import type { CallNet, Context } from './context.ts'

/*
 * What the words around a call tell of how likely it calls a hive. Two ways of looking: the nearest words count by their place, and
 * convolutions pass over all that is in reach, of which the most that was found before and behind counts. The net knows more ways of
 * calling a hive than those it was shown. It says one cue among the others of a call (`weigh.ts`). Learned by `npm run calls`.
 */

/** How far it looks. */
export const REACH: CallNet['reach'] = { before: 32, behind: 32 }
/** So many words call a hive at most as the net sees them. */
const OWN = 2
/** Words on either side that count by their place. */
const NEAR = 8
/** Words that the first layer of convolutions looks at together, and how far those of the others lie apart. */
const FIVE = 5
const APART = [2, 4] as const
/** Of each word it is told how far before or behind the call it stands, and whether it is in it. */
const PLACES = 2

/** All kinds of calls, in the order of their rows. */
const KINDS = ['bare', 'letter', 'line', 'local', 'maybe', 'name', 'phrase', 'spot'] as const

export interface CallNetNumbers {
  /** The row of each word; row 0 stands for every other word. */
  readonly words: ReadonlyMap<string, number>
  readonly shape: { readonly word: number; readonly finds: number; readonly hidden: number }
  /** Words by numbers of a word. */
  readonly vectors: Float32Array
  readonly kinds: Float32Array
  /** Five places by numbers of a word and where it stands, by what is found. */
  readonly around: Float32Array
  readonly aroundBase: Float32Array
  /** Three places by what is found, by what is found farther around. */
  readonly wider: Float32Array
  readonly widerBase: Float32Array
  readonly widest: Float32Array
  readonly widestBase: Float32Array
  /** Near places by numbers of a word, by what is made of them. */
  readonly near: Float32Array
  readonly nearBase: Float32Array
  /** All that was found, by what is made of it. */
  readonly made: Float32Array
  readonly madeBase: Float32Array
  readonly out: Float32Array
  readonly outBase: Float32Array
}

const LISTS = [
  'vectors',
  'kinds',
  'around',
  'aroundBase',
  'wider',
  'widerBase',
  'widest',
  'widestBase',
  'near',
  'nearBase',
  'made',
  'madeBase',
  'out',
  'outBase',
] as const
/** As `call-net.json` keeps it. */
export type PackedCallNet = Readonly<Record<'words' | 'shape' | (typeof LISTS)[number], string>>

export const packCallNet = (net: CallNetNumbers): PackedCallNet => ({
  words: packWords(net.words),
  shape: [net.shape.word, net.shape.finds, net.shape.hidden].join(' '),
  ...packLists(LISTS, net),
})

export function unpackCallNet(packed: PackedCallNet): CallNetNumbers {
  const [word = 0, finds = 0, hidden = 0] = packed.shape.split(' ').map(Number)
  return { words: unpackWords(packed.words), shape: { word, finds, hidden }, ...unpackLists(LISTS, packed) }
}

/** A net out of `call-net.json`. */
export const callNet = (packed: PackedCallNet): CallNet => callNetBy(unpackCallNet(packed))

/** Places that the net looks at: those before the call, nearest last, the call's own, those behind it. */
const FIRST = REACH.before
const LENGTH = REACH.before + OWN + REACH.behind
const BEHIND = FIRST + OWN
/** No word stands there. */
const NONE = -1

/** The rows of the words at each place. */
function placed(words: ReadonlyMap<string, number>, { own, before, behind }: Context): Int32Array {
  const rows = new Int32Array(LENGTH).fill(NONE)
  const row = (word: string): number => words.get(word) ?? 0
  for (let i = 0; i < before.length && i < REACH.before; i++) rows[FIRST - 1 - i] = row(before[i]!)
  for (let i = 0; i < own.length && i < OWN; i++) rows[FIRST + i] = row(own[i]!)
  for (let i = 0; i < behind.length && i < REACH.behind; i++) rows[BEHIND + i] = row(behind[i]!)
  return rows
}

/** Where a place stands: from -1 far before to 1 far behind, and whether it is in the call. */
const standing = (place: number): readonly [number, number] => {
  if (place < FIRST) return [place / (FIRST - 1) - 1, 0]
  return place < BEHIND ? [0, 1] : [(place - BEHIND) / (REACH.behind - 1), 0]
}

/** The same by what was unpacked. */
export function callNetBy(net: CallNetNumbers): CallNet {
  const { word: W, finds: C, hidden: H } = net.shape
  const wide = W + PLACES
  const near = net.nearBase.length
  /** What each word adds at each of the five places and of the near ones, worked out when it is first met. */
  const known = new Map<number, Float32Array>()
  const slots = 2 * NEAR + OWN
  const addsOf = (row: number): Float32Array => {
    let adds = known.get(row)
    if (!adds) {
      adds = new Float32Array(FIVE * C + slots * near)
      for (let j = 0; j < W; j++) {
        const x = net.vectors[row * W + j]!
        for (let k = 0; k < FIVE; k++)
          for (let c = 0; c < C; c++) adds[k * C + c]! += x * net.around[(k * wide + j) * C + c]!
        for (let s = 0; s < slots; s++)
          for (let c = 0; c < near; c++) adds[FIVE * C + s * near + c]! += x * net.near[(s * W + j) * near + c]!
      }
      known.set(row, adds)
    }
    return adds
  }
  const base = baseOfPlaces(net)
  return {
    reach: REACH,
    odds(context) {
      const rows = placed(net.words, context)
      const found = base.slice()
      const close = net.nearBase.slice()
      rows.forEach((row, place) => {
        if (row === NONE) return
        const adds = addsOf(row)
        for (let k = 0; k < FIVE; k++) {
          const to = place - k + (FIVE - 1) / 2
          if (to < 0 || to >= LENGTH) continue
          for (let c = 0; c < C; c++) found[to * C + c]! += adds[k * C + c]!
        }
        const slot = place - (FIRST - NEAR)
        if (slot >= 0 && slot < slots) for (let c = 0; c < near; c++) close[c]! += adds[FIVE * C + slot * near + c]!
      })
      positive(found)
      positive(close)
      const wider = farther(found, net.wider, net.widerBase, APART[0])
      const all = farther(wider, net.widest, net.widestBase, APART[1])
      const made = net.madeBase.slice()
      let at = 0
      const take = (x: number): void => {
        if (x !== 0) for (let h = 0; h < H; h++) made[h]! += x * net.made[at * H + h]!
        at++
      }
      for (const x of close) take(x)
      for (const [from, to] of [
        [0, FIRST],
        [BEHIND, LENGTH],
        [FIRST, FIRST + 1],
        [FIRST + 1, FIRST + 2],
      ] as const)
        for (let c = 0; c < C; c++) take(mostOf(all, from, to, c, C))
      const kind = KINDS.indexOf(context.kind as (typeof KINDS)[number])
      for (let j = 0; j < W; j++) take(kind < 0 ? 0 : net.kinds[kind * W + j]!)
      let odds = net.outBase[0]!
      for (let h = 0; h < H; h++) if (made[h]! > 0) odds += made[h]! * net.out[h]!
      return odds
    },
  }
}

/** What the first layer finds at each place where no word stands anywhere. */
function baseOfPlaces({ shape: { word, finds: C }, around, aroundBase }: CallNetNumbers): Float32Array {
  const out = new Float32Array(LENGTH * C)
  for (let to = 0; to < LENGTH; to++) {
    out.set(aroundBase, to * C)
    for (let k = 0; k < FIVE; k++) {
      const place = to + k - (FIVE - 1) / 2
      if (place < 0 || place >= LENGTH) continue
      standing(place).forEach((x, i) => {
        for (let c = 0; c < C; c++) out[to * C + c]! += x * around[(k * (word + PLACES) + word + i) * C + c]!
      })
    }
  }
  return out
}

/** What was found, and what is found farther around added to it. */
function farther(found: Float32Array, layer: Float32Array, base: Float32Array, apart: number): Float32Array {
  const C = base.length
  const out = new Float32Array(found.length)
  for (let place = 0; place < LENGTH; place++) {
    const at = place * C
    out.set(base, at)
    for (let third = 0; third < 3; third++) {
      const from = place + (third - 1) * apart
      if (from < 0 || from >= LENGTH) continue
      for (let j = 0; j < C; j++) {
        const x = found[from * C + j]!
        if (x === 0) continue
        const row = (third * C + j) * C
        for (let c = 0; c < C; c++) out[at + c]! += x * layer[row + c]!
      }
    }
  }
  positive(out)
  for (let i = 0; i < out.length; i++) out[i]! += found[i]!
  return out
}

function positive(list: Float32Array): void {
  for (let i = 0; i < list.length; i++) if (list[i]! < 0) list[i] = 0
}

function mostOf(found: Float32Array, from: number, to: number, c: number, C: number): number {
  let most = Number.NEGATIVE_INFINITY
  for (let place = from; place < to; place++) if (found[place * C + c]! > most) most = found[place * C + c]!
  return most
}
