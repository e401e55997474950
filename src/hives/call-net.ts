import type { Word } from '../language/word.ts'
import { packNumbers, unpackNumbers } from '../packed-numbers.ts'
import type { MaybeCall } from './calls.ts'

/**
 * A small net that tells from the words around it how likely words call a hive: each word is a short list of numbers,
 * those before and behind count by their place (Bengio et al. 2003), those farther off as a heap. Words that are used
 * alike lie near each other in it, so that it knows more ways of calling a hive than those it was shown. It says one cue
 * among the others of a call (`weigh.ts`). Learned by `npm run hives`.
 */
export interface CallNet {
  /** Log odds that the words call a hive. */
  odds(around: Around): number
}

/** What stands around words that may call a hive, nearest first; and they themselves. */
export interface Around {
  readonly kind: MaybeCall['kind']
  readonly own: readonly string[]
  readonly before: readonly string[]
  readonly behind: readonly string[]
}

/** A word of a note, and what sets it off from the one before. */
export interface Spoken {
  readonly said: string
  readonly mark: '' | ',' | '.'
}

/** The words of an utterance as the net reads them, one each; fill words are empty. */
export const spokenOf = (words: readonly Word[]): Spoken[] =>
  words.map(({ norm, filler, brk }) => ({
    said: filler ? '' : /^\d+$/.test(norm) ? '<n>' : norm,
    // `Break.hard` and `Break.soft`; with the enum itself the page would have to be cut in pieces (`fitted/later.ts`)
    mark: brk >= 3 ? '.' : brk >= 2 ? ',' : '',
  }))

/** Words that count by their place on either side, and those farther off that count as a heap. */
export const PLACES = 8
export const FAR = { before: 4, behind: 16 } as const
/** So many words call a hive at most as the net sees them. */
export const OWN = 2
/** So many words on are looked at, marks among them. */
export const LOOKS_ON = PLACES + FAR.behind

/** What stands around the words `from` to `to` of a note. */
export function aroundOf(spoken: readonly Spoken[], from: number, to: number, kind: MaybeCall['kind']): Around {
  const before: string[] = []
  for (let i = from - 1; i >= 0 && before.length < PLACES + FAR.before; i--) {
    const mark = spoken[i + 1]!.mark
    if (mark) before.push(mark)
    if (spoken[i]!.said) before.push(spoken[i]!.said)
  }
  const behind: string[] = []
  for (let i = to; i < spoken.length && behind.length < LOOKS_ON; i++) {
    const { said, mark } = spoken[i]!
    if (mark) behind.push(mark)
    if (said) behind.push(said)
  }
  return { kind, own: spoken.slice(from, to).flatMap(({ said }) => said || []), before, behind }
}

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

export function packCallNet(net: NetNumbers): PackedCallNet {
  const words = [...net.words].sort((a, b) => a[1] - b[1]).map(([name]) => name)
  const lists = Object.fromEntries(LISTS.map((name) => [name, packNumbers(net[name])] as const))
  return {
    words: words.join(' '),
    shape: `${net.word} ${net.hidden}`,
    ...(lists as Record<(typeof LISTS)[number], string>),
  }
}

/** The slot of each word around a call, and by what it counts. */
export function slotsOf({ own, before, behind }: Around): { said: string; slot: number; share: number }[] {
  const inSlots = (words: readonly string[], from: number) =>
    words.map((said, i) => ({ said, slot: from + i, share: 1 }))
  const heap = (words: readonly string[], slot: number, share: number) => words.map((said) => ({ said, slot, share }))
  return [
    ...inSlots(before.slice(0, PLACES), 0),
    ...inSlots(behind.slice(0, PLACES), PLACES),
    ...inSlots(own.slice(0, OWN), 2 * PLACES),
    ...heap(before.slice(PLACES, PLACES + FAR.before), SLOTS - 2, 1 / FAR.before),
    ...heap(behind.slice(PLACES, LOOKS_ON), SLOTS - 1, 1 / FAR.behind),
  ]
}

/** A net out of `call-net.json`. */
export function callNet(packed: PackedCallNet): CallNet {
  const [word = 0, hidden = 0] = packed.shape.split(' ').map(Number)
  const words = new Map(packed.words.split(' ').map((name, i) => [name, i + 1]))
  const net = Object.fromEntries(LISTS.map((name) => [name, unpackNumbers(packed[name])] as const)) as Record<
    (typeof LISTS)[number],
    Float32Array
  >
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
    odds(around) {
      const found = net.base.slice()
      const kind = KINDS.indexOf(around.kind) * hidden
      for (let h = 0; h < hidden; h++) found[h]! += net.kinds[kind + h]!
      for (const { said, slot, share } of slotsOf(around)) {
        const adds = addsOf(words.get(said) ?? 0, slot)
        for (let h = 0; h < hidden; h++) found[h]! += share * adds[h]!
      }
      let odds = net.outBase[0]!
      for (let h = 0; h < hidden; h++) if (found[h]! > 0) odds += found[h]! * net.out[h]!
      return odds
    },
  }
}

/** The log odds of calls, each worked out once as long as what stands around it is the same. */
export function createOddsOf(net: CallNet): (call: MaybeCall, word: number, spoken: readonly Spoken[]) => number {
  const known = new WeakMap<MaybeCall, { readonly last: Spoken | undefined; readonly odds: number }>()
  return (call, word, spoken) => {
    const to = word + call.to - call.from
    // what is said anew in the place of something is another word, whatever it is
    const last = spoken[Math.min(spoken.length - 1, to + 2 * LOOKS_ON)]
    const earlier = known.get(call)
    if (earlier && earlier.last === last) return earlier.odds
    const odds = net.odds(aroundOf(spoken, word, to, call.kind))
    known.set(call, { last, odds })
    return odds
  }
}

/** The cues that the net gives a call: how likely it is, by whole steps, with names of a yard file apart. */
export function cuesOfOdds(odds: number, isYardKnown: boolean): string[] {
  const cues = [`${isYardKnown ? 'yard ' : ''}net ${Math.max(-5, Math.min(5, Math.round(odds)))}`]
  if (odds > -1) cues.push('net up')
  return cues
}
