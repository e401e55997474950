import { ordinalOf, plainNumberAt } from '../language/amounts.ts'
import { Break, type Word } from '../language/word.ts'

/** Words that tell which frame is looked at: its number, or that it is the one behind the last. */
export interface FrameStep {
  /** Words of the note before it. */
  readonly word: number
  readonly frame: number | 'next'
}

/** The frame that was looked at last, and words of the note before it was named. */
export interface FrameInHand {
  readonly n: number
  readonly word: number
}

const FRAME = /^(frames?|combs?|bars?)$/
const ONE = /^(frame|comb|bar|one)$/
/** No box holds more. */
const MOST = 24
/** Words after which a walk over frames is hardly the same one. */
export const WALK_LASTS = 150

/** The frames that some words name; `before` are the words of the note before them. */
export function frameSteps(words: readonly Word[], before: number): FrameStep[] {
  const out: FrameStep[] = []
  words.forEach(({ norm }, i) => {
    const next = words[i + 1]
    const ends = next === undefined || next.brk >= Break.soft
    if (FRAME.test(norm) && !ends) {
      const number = plainNumberAt(words, i + 1)
      if (number && number.n > 0 && number.n <= MOST) out.push({ word: before + i + 1, frame: number.n })
      return
    }
    const order = ordinalOf(norm) ?? 0
    if (order > 0 && order <= MOST && (ends ? order > 1 : ONE.test(next!.norm)))
      out.push({ word: before + i, frame: order })
    else if (norm === 'next' && (ends || ONE.test(next.norm))) out.push({ word: before + i, frame: 'next' })
  })
  return out
}

/** The frame in hand after a step. */
export const afterStep = (hand: FrameInHand | null, { word, frame }: FrameStep): FrameInHand | null =>
  frame !== 'next' ? { n: frame, word } : hand && word - hand.word < WALK_LASTS ? { n: hand.n + 1, word } : null

/** How a number stands to the frame in hand: `none` where no frames are gone through. */
export function besideFrame(hand: FrameInHand | null, n: number, word: number): string {
  const far = hand ? word - hand.word : WALK_LASTS
  if (!hand || far >= WALK_LASTS) return 'none'
  const more = n - hand.n
  const way = more < 0 ? 'back' : more <= 2 ? `+${more}` : 'up'
  return `${way} ${far < 20 ? 'near' : far < 60 ? 'soon' : 'later'}`
}
