import { packLists, packWords, unpackLists, unpackWords } from './packed-numbers.ts'

/**
 * A small net over words that stand in slots around something: each word is a short list of numbers and counts by its slot
 * (Bengio et al. 2003); words that are used alike lie near each other, so that it knows more than what it was shown.
 */
export interface SlotNetNumbers {
  /** The row of each word; row 0 stands for every other word. */
  readonly words: ReadonlyMap<string, number>
  /** Numbers of a word, and of what is made of them. */
  readonly word: number
  readonly hidden: number
  /** Words by numbers of a word. */
  readonly vectors: Float32Array
  /** Slots by numbers of a word by what is made of them. */
  readonly slots: Float32Array
  readonly base: Float32Array
  /** What is asked by what is made of the words. */
  readonly out: Float32Array
  readonly outBase: Float32Array
}

/** A word in a slot, and by what it counts. */
export interface Slotted {
  readonly said: string
  readonly slot: number
  readonly share: number
}

/** Takes a word in a slot, and by what it counts. */
export type Give = (said: string, slot: number, share: number) => void

/** Gives the first words of a list, `most` at most, that count by their place: each in the next slot. */
export function inSlots(give: Give, words: readonly string[], most: number, slot: number): void {
  for (let i = 0; i < most && i < words.length; i++) give(words[i]!, slot + i, 1)
}

/** Gives the words of a list from one place up to another as a heap: all in one slot. */
export function inHeap(
  give: Give,
  words: readonly string[],
  from: number,
  most: number,
  slot: number,
  share: number,
): void {
  for (let i = from; i < most && i < words.length; i++) give(words[i]!, slot, share)
}

/** What is given, as a list. */
export function listed(each: (give: Give) => void): Slotted[] {
  const out: Slotted[] = []
  each((said, slot, share) => out.push({ said, slot, share }))
  return out
}

const LISTS = ['vectors', 'slots', 'base', 'out', 'outBase'] as const
/** As it is kept. */
export type PackedSlotNet = Readonly<Record<'words' | 'shape' | (typeof LISTS)[number], string>>

export const packSlotNet = (net: SlotNetNumbers): PackedSlotNet => ({
  words: packWords(net.words),
  shape: `${net.word} ${net.hidden}`,
  ...packLists(LISTS, net),
})

export function unpackSlotNet(packed: PackedSlotNet): SlotNetNumbers {
  const [word = 0, hidden = 0] = packed.shape.split(' ').map(Number)
  return { words: unpackWords(packed.words), word, hidden, ...unpackLists(LISTS, packed) }
}

/** Gives the log odds of everything that a net is asked. */
export function slotNet(net: SlotNetNumbers): (each: (give: Give) => void) => Float64Array {
  const { words, word, hidden } = net
  const slots = net.slots.length / (word * hidden)
  /** What each word adds in each slot, worked out when it is first met there. */
  const known = new Map<number, Float32Array>()
  const addsOf = (row: number, slot: number): Float32Array => {
    const key = row * slots + slot
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
  return (each) => {
    const found = net.base.slice()
    each((said, slot, share) => {
      const adds = addsOf(words.get(said) ?? 0, slot)
      for (let h = 0; h < hidden; h++) found[h]! += share * adds[h]!
    })
    const odds = Float64Array.from(net.outBase)
    for (let h = 0; h < hidden; h++) {
      const x = found[h]!
      if (x > 0) for (let k = 0; k < odds.length; k++) odds[k]! += x * net.out[k * hidden + h]!
    }
    return odds
  }
}
