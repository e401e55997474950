import { plainNumberAt } from './amounts.ts'
import { ORDINALS } from './number-words.ts'
import { Break, type Word } from './word.ts'

/** Frames in the order in which they were called, and where their words end. */
export interface FrameRow {
  readonly end: number
  readonly frames: readonly number[]
}

/** The most frames, or bars, that one hive may have in a row. */
const MOST = 40

/** What says that a row goes on to its last number: "one up to five", "two through six". */
const UP_TO = /^(to|through|thru|till|until)$/

/**
 * Several frames called together: "one two three", "two, three and six", "one up to five", "first and tenth". At least two
 * numbers that rise or fall all the way; whether they call frames or count something is for the words around to say.
 */
export function frameRowAt(words: readonly Word[], at: number): FrameRow | undefined {
  const first = numberAt(words, at)
  if (!first) return undefined
  const frames = [first.n]
  let end = first.end
  let isClosed = false
  for (;;) {
    let i = end
    const upTo = spanTo(words, i)
    if (upTo !== undefined) i = upTo
    else if (words[i]?.norm === 'and') i++
    // "and" stands before the last: "one and two, three stays"
    else if (isClosed) break
    const next = words[i] && words[i]!.brk < Break.hard ? numberAt(words, i) : undefined
    const last = frames[frames.length - 1]!
    if (!next || next.byOrder !== first.byOrder || next.n === last) break
    // said without a pause and without "and", only neighbours make a row: "top one nine capped"
    if (i === end && words[i]!.brk === Break.none && Math.abs(next.n - last) !== 1) break
    // "frame four, ninety": a share behind the frame's own number
    if (i === end && isRound(next.n) && Math.abs(next.n - last) > 1) break
    if (frames.length > 1 && next.n > last !== frames[1]! > frames[0]!) break
    // "one two up to five" is no row: a span is from one number to another
    if (upTo !== undefined) {
      const by = next.n > last ? 1 : -1
      for (let n = last + by; n !== next.n; n += by) frames.push(n)
    }
    frames.push(next.n)
    isClosed = upTo === undefined && i > end
    end = next.end
  }
  return frames.length > 1 ? { end, frames } : undefined
}

/** A number as shares are told in. */
const isRound = (n: number): boolean => n >= 15 && n % 5 === 0

/** Where the words behind "to", "up to" or "down to" begin. */
function spanTo(words: readonly Word[], at: number): number | undefined {
  const i = /^(up|down|right|all)$/.test(words[at]?.norm ?? '') ? at + 1 : at
  return words[i] && words[i]!.brk < Break.hard && UP_TO.test(words[i]!.norm) ? i + 1 : undefined
}

function numberAt(words: readonly Word[], at: number): { n: number; byOrder: boolean; end: number } | undefined {
  const said = words[at]?.norm ?? ''
  const order = ORDINALS[said] ?? (/^\d+(st|nd|rd|th)$/.test(said) ? Number.parseInt(said, 10) : undefined)
  if (order !== undefined) return order <= MOST ? { n: order, byOrder: true, end: at + 1 } : undefined
  const plain = words[at] ? plainNumberAt(words, at) : undefined
  return plain && plain.n > 0 && plain.n <= MOST ? { ...plain, byOrder: false } : undefined
}
