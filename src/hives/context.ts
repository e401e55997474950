import { plainNumberAt } from '../language/amounts.ts'
import { Break, type Word } from '../language/word.ts'
import type { MaybeCall } from './calls.ts'
import { wholeSteps } from './whole-steps.ts'

/** What stands around words that may call a hive, nearest first; and they themselves. */
export interface Context {
  readonly kind: MaybeCall['kind']
  readonly own: readonly string[]
  readonly before: readonly string[]
  readonly behind: readonly string[]
}

/** Tells from the words around it how likely words call a hive (`call-net.ts`; the page gets it after its first load). */
export interface CallNet {
  /** How many words before and behind it looks at, marks among them. */
  readonly reach: { readonly before: number; readonly behind: number }
  /** Log odds that the words call a hive. */
  odds(context: Context): number
}

/** A word of a note, and what sets it off from the one before. */
export interface Spoken {
  readonly said: string
  /** The number that the word says or begins, where it can be nothing else. */
  readonly n: number | null
  readonly mark: '' | ',' | '.'
}

/** The words of an utterance as the net reads them, one each; fill words are empty. */
export function spokenOf(words: readonly Word[]): Spoken[] {
  let within = 0
  return words.map(({ norm, filler, brk }, i) => {
    const number = i < within || filler || norm === 'one' ? undefined : plainNumberAt(words, i)
    const said = filler || i < within ? '' : number ? '<n>' : norm
    if (number) within = number.end
    return { said, n: number?.n ?? null, mark: brk >= Break.hard ? '.' : brk >= Break.soft ? ',' : '' }
  })
}

/** How a number near by stands to that of a call: "five" behind "four" is one more. */
function beside(n: number, own: number): string {
  const more = n - own
  if (Math.abs(more) <= 2) return `<${more}>`
  return `<${more < 0 ? '-' : '+'}${Math.abs(more) <= 6 ? 'few' : 'far'}>`
}

/** What stands around the words `from` to `to` of a note. */
export const contextOf = (
  spoken: readonly Spoken[],
  from: number,
  to: number,
  kind: MaybeCall['kind'],
  reach: CallNet['reach'],
  number: number | null = null,
): Context => lookedAround(spoken, from, to, kind, reach, number).context

/** The same, and the word up to which it looked. */
function lookedAround(
  spoken: readonly Spoken[],
  from: number,
  to: number,
  kind: MaybeCall['kind'],
  reach: CallNet['reach'],
  number: number | null,
): { context: Context; end: number } {
  const words = ({ said, n }: Spoken): string => (n !== null && number !== null ? beside(n, number) : said)
  const before: string[] = []
  for (let i = from - 1; i >= 0 && before.length < reach.before; i--) {
    const mark = spoken[i + 1]!.mark
    if (mark) before.push(mark)
    if (spoken[i]!.said) before.push(words(spoken[i]!))
  }
  const behind: string[] = []
  let end = to
  for (; end < spoken.length && behind.length < reach.behind; end++) {
    const { said, mark } = spoken[end]!
    if (mark) behind.push(mark)
    if (said) behind.push(words(spoken[end]!))
  }
  return { context: { kind, own: spoken.slice(from, to).flatMap(({ said }) => said || []), before, behind }, end }
}

/** The number of a call that calls one hive by it and by nothing else. */
export const plainNumberOf = ({ labels }: MaybeCall): number | null =>
  labels.length === 1 && /^\d+$/.test(labels[0]!) ? Number(labels[0]) : null

/** What stands around a call whose first word is `word` of the note, and the word up to which was looked. */
export const aroundCall = (
  call: MaybeCall,
  word: number,
  spoken: readonly Spoken[],
  reach: CallNet['reach'],
): { context: Context; end: number } =>
  lookedAround(spoken, word, word + call.to - call.from, call.kind, reach, plainNumberOf(call))

/** The log odds of calls, each worked out once as long as what stands around it is the same. */
export function createOddsOf(net: CallNet): (call: MaybeCall, word: number, spoken: readonly Spoken[]) => number {
  interface Known {
    readonly odds: number
    readonly end: number
    readonly last: Spoken
    readonly isFull: boolean
  }
  const known = new WeakMap<MaybeCall, Known>()
  return (call, word, spoken) => {
    const earlier = known.get(call)
    // what is said anew in the place of something is another word, whatever it is
    const isSame = earlier !== undefined && spoken[earlier.end - 1] === earlier.last
    if (isSame && (earlier.isFull || earlier.end === spoken.length)) return earlier.odds
    const { context, end } = aroundCall(call, word, spoken, net.reach)
    const odds = net.odds(context)
    known.set(call, { odds, end, last: spoken[end - 1]!, isFull: context.behind.length >= net.reach.behind })
    return odds
  }
}

/** The cues that the net gives a call: how likely it is, by whole steps, with names of a yard file apart. */
export function cuesOfOdds(odds: number, isYardKnown: boolean): string[] {
  const cues = [`${isYardKnown ? 'yard ' : ''}net ${wholeSteps(odds)}`]
  if (odds > -1) cues.push('net up')
  return cues
}
