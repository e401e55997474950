import { known } from './known.ts'
import type { HeardWord, Piece } from './lay-out.ts'

/** A word in a flat list, as engines without segments give it. */
export interface FlatWord extends HeardWord {
  /** Stands against the word before, with no space: punctuation, the tail of a split word. */
  readonly glued?: boolean
  readonly speaker?: string
  readonly channel?: string
}

/** A pause this long (seconds) ends a stretch of speech; inside a phrase people pause for less than a second. */
export const PAUSE = 1

/** Cuts a flat list of words into stretches: at pauses, and where the speaker or channel changes. */
export function groupWords(words: readonly FlatWord[]): Piece[] {
  const groups: FlatWord[][] = []
  let until: number | undefined
  for (const word of words) {
    const group = groups.at(-1)
    const last = group?.at(-1)
    const paused = word.at !== undefined && until !== undefined && (word.at - until >= PAUSE || word.at < until - 5)
    const other = !word.glued && last !== undefined && (word.speaker !== last.speaker || word.channel !== last.channel)
    if (group && !paused && !other) group.push(word)
    else groups.push([word])
    until = word.until ?? word.at ?? until
  }
  return groups.map(pieceOfWords)
}

/** One stretch of speech from its words. */
export function pieceOfWords(words: readonly FlatWord[]): Piece {
  const text = words.map((word, index) => (index === 0 || word.glued ? '' : ' ') + word.text.trim()).join('')
  const ends = words.map((word) => word.until ?? word.at).filter((end) => end !== undefined)
  return {
    text,
    words: words.map(({ glued, speaker, channel, ...word }) => word),
    ...known({
      at: words.find((word) => word.at !== undefined)?.at,
      until: ends.at(-1),
      speaker: words.find((word) => word.speaker !== undefined)?.speaker,
      channel: words[0]?.channel,
    }),
  }
}

/** Words without a time (digits, in forced alignment) get one between their neighbours', never a confidence. */
export function fillTimes<T extends HeardWord>(words: readonly T[]): T[] {
  const filled = [...words]
  for (let i = 0; i < filled.length; i++) {
    if (filled[i]!.at !== undefined) continue
    let next = i
    while (next < filled.length && filled[next]!.at === undefined) next++
    const from = filled[i - 1]?.until ?? filled[i - 1]?.at
    const to = filled[next]?.at
    for (let k = i; k < next; k++) {
      const place = (part: number) =>
        from === undefined || to === undefined ? (from ?? to) : from + ((to - from) * (k - i + part)) / (next - i)
      filled[k] = { ...filled[k]!, ...known({ at: place(0), until: place(1) }) }
    }
    i = next
  }
  return filled
}
