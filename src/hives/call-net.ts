import { packLists, packWords, unpackLists, unpackWords } from '../packed-numbers.ts'
import type { CallNet, Context } from './context.ts'

/*
 * A small net that tells from the words around it how likely words call a hive: each word is a short list of numbers,
 * those before and behind count by their place (Bengio et al. 2003), those farther off as a heap. Words that are used
 * alike lie near each other in it, so that it knows more ways of calling a hive than those it was shown. It says one cue
 * among the others of a call (`weigh.ts`). Learned by `npm run hives`.
 */

/** Words that count by their place on either side, and those farther off that count as a heap. */
const PLACES = 8
const FAR = { before: 4, behind: 16 } as const
/** So many words call a hive at most as the net sees them. */
const OWN = 2
/** How far it looks. */
export const REACH: CallNet['reach'] = { before: PLACES + FAR.before, behind: PLACES + FAR.behind }

export const KINDS = ['line', 'maybe', 'local', 'bare', 'name', 'spot', 'letter', 'phrase'] as const
/** Where a word may stand: before, behind, in the call, in the two heaps. */
export const SLOTS = 2 * PLACES + OWN + 2

export interface NetNumbers {
  /** The row of each word; row 0 stands for every other word. */
  readonly words: ReadonlyMap<string, number>
  /** Numbers of a word, and of what is made of them. */
  readonly word: number
  readonly hidden: number
  /** Words by numbers of a word. */
  readonly vectors: Float32Array
  /** Slots by numbers of a word by what is made of them. */
  readonly slots: Float32Array
  /** Kinds of calls by the same. */
  readonly kinds: Float32Array
  readonly base: Float32Array
  readonly out: Float32Array
  readonly outBase: Float32Array
}

const LISTS = ['vectors', 'slots', 'kinds', 'base', 'out', 'outBase'] as const
/** As `call-net.json` keeps it. */
export type PackedCallNet = Readonly<Record<'words' | 'shape' | (typeof LISTS)[number], string>>

export const packCallNet = (net: NetNumbers): PackedCallNet => ({
  words: packWords(net.words),
  shape: `${net.word} ${net.hidden}`,
  ...packLists(LISTS, net),
})

/** Gives the slot of each word around a call, and by what it counts. */
export function eachSlot(
  { own, before, behind }: Context,
  give: (said: string, slot: number, share: number) => void,
): void {
  const inSlots = (words: readonly string[], most: number, from: number): void => {
    for (let i = 0; i < most && i < words.length; i++) give(words[i]!, from + i, 1)
  }
  const heap = (words: readonly string[], most: number, slot: number, share: number): void => {
    for (let i = PLACES; i < most && i < words.length; i++) give(words[i]!, slot, share)
  }
  inSlots(before, PLACES, 0)
  inSlots(behind, PLACES, PLACES)
  inSlots(own, OWN, 2 * PLACES)
  heap(before, REACH.before, SLOTS - 2, 1 / FAR.before)
  heap(behind, REACH.behind, SLOTS - 1, 1 / FAR.behind)
}

/** The slots of the words around a call as a list. */
export function slotsOf(context: Context): { said: string; slot: number; share: number }[] {
  const out: { said: string; slot: number; share: number }[] = []
  eachSlot(context, (said, slot, share) => out.push({ said, slot, share }))
  return out
}

export function unpackCallNet(packed: PackedCallNet): NetNumbers {
  const [word = 0, hidden = 0] = packed.shape.split(' ').map(Number)
  return { words: unpackWords(packed.words), word, hidden, ...unpackLists(LISTS, packed) }
}

/** A net out of `call-net.json`. */
export const callNet = (packed: PackedCallNet): CallNet => callNetBy(unpackCallNet(packed))

/** The same by what was unpacked. */
export function callNetBy(net: NetNumbers): CallNet {
  const { words, word, hidden } = net
  /** What each word adds in each slot, worked out when it is first met there. */
  const known = new Map<number, Float32Array>()
  const addsOf = (row: number, slot: number): Float32Array => {
    const key = row * SLOTS + slot
    let adds = known.get(key)
    if (!adds) {
      adds = new Float32Array(hidden)
      for (let j = 0; j < word; j++) {
        const x = net.vectors[row * word + j]!
        const from = (slot * word + j) * hidden
        for (let h = 0; h < hidden; h++) adds[h]! += x * net.slots[from + h]!
      }
      known.set(key, adds)
    }
    return adds
  }
  return {
    reach: REACH,
    odds(context) {
      const found = net.base.slice()
      const kind = KINDS.indexOf(context.kind) * hidden
      for (let h = 0; h < hidden; h++) found[h]! += net.kinds[kind + h]!
      eachSlot(context, (said, slot, share) => {
        const adds = addsOf(words.get(said) ?? 0, slot)
        for (let h = 0; h < hidden; h++) found[h]! += share * adds[h]!
      })
      let odds = net.outBase[0]!
      for (let h = 0; h < hidden; h++) if (found[h]! > 0) odds += found[h]! * net.out[h]!
      return odds
    },
  }
}
