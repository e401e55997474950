/** Where a loop's first round ends, as a place in the text, and how often it comes. */
export interface Loop {
  readonly from: number
  readonly to: number
  readonly times: number
}

/** Longest phrase whose repetition is looked for, in words. */
const LONGEST = 12
/** A segment longer than this is no recogniser's segment; it is not searched, so that a huge file stays cheap. */
const TOO_LONG = 200_000

/**
 * A phrase that a recogniser got stuck in. Keepers repeat themselves ("next one same, next one same"; "no, no, no"), so a
 * word has to come eight times, a short phrase five and a longer one four; the first round stays as speech.
 */
export function findLoop(text: string): Loop | undefined {
  if (text.length > TOO_LONG) return undefined
  const words = [...text.matchAll(/[\p{L}\p{N}'’%]+/gu)]
  const said = words.map((word) => word[0].toLowerCase())
  for (let size = 1; size <= LONGEST; size++) {
    const needed = size === 1 ? 8 : size <= 3 ? 5 : 4
    let run = 0
    for (let i = size; i <= said.length; i++) {
      if (i < said.length && said[i] === said[i - size]) run++
      else {
        const times = Math.floor(run / size) + 1
        // Numbers over and over may be a row of equal hives, not a loop.
        if (times >= needed && said.slice(i - size, i).some((word) => !/^\d/.test(word)))
          return loopAt(words, i - run, i, times)
        run = 0
      }
    }
  }
  return undefined
}

function loopAt(words: readonly RegExpExecArray[], second: number, end: number, times: number): Loop {
  const last = words[end - 1]!
  return { from: words[second]!.index, to: last.index + last[0].length, times }
}
