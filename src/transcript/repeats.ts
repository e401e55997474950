import type { Piece } from './lay-out.ts'

const plainWords = (text: string): string =>
  text
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, ' ')
    .trim()

/**
 * Finals that grow ("hi", "hi there", "hi there friend"), as phone browsers deliver them: only the longest stays. With
 * `equal`, a final that comes twice in a row counts once as well.
 */
export function collapseGrowing(pieces: readonly Piece[], equal: boolean): Piece[] {
  const kept: Piece[] = []
  let last = ''
  for (const piece of pieces) {
    const words = plainWords(piece.text)
    if (words === '') continue
    if (last !== '' && words === last) {
      if (equal) continue
    } else if (last !== '' && words.startsWith(`${last} `)) kept.pop()
    kept.push(piece)
    last = words
  }
  return kept
}

/**
 * A recorder with two channels hears the same sentence twice in slightly different words: of two pieces that overlap in
 * time and share most words, the surer stays and the other becomes its alternative.
 */
export function mergeChannels(pieces: readonly Piece[]): Piece[] {
  const channels = new Set(pieces.map((piece) => piece.channel))
  if (channels.size < 2 || pieces.some((piece) => piece.at === undefined)) return [...pieces]
  const sorted = [...pieces].sort((a, b) => (a.at ?? 0) - (b.at ?? 0))
  const merged: Piece[] = []
  for (const piece of sorted) {
    const at = merged.findLastIndex((other, index) => index >= merged.length - 3 && isEcho(other, piece))
    const other = merged[at]
    if (!other) merged.push(piece)
    else {
      const [best, rest] = (piece.confidence ?? 0) > (other.confidence ?? 0) ? [piece, other] : [other, piece]
      const same = plainWords(best.text) === plainWords(rest.text)
      merged[at] = same ? best : { ...best, alternatives: [...(best.alternatives ?? []), rest.text] }
    }
  }
  return merged
}

function isEcho(a: Piece, b: Piece): boolean {
  if (a.channel === b.channel || a.at === undefined || b.at === undefined || !a.until || !b.until) return false
  const overlap = Math.min(a.until, b.until) - Math.max(a.at, b.at)
  if (overlap < 0.6 * Math.min(a.until - a.at, b.until - b.at)) return false
  const mine = new Set(plainWords(a.text).split(' '))
  const theirs = new Set(plainWords(b.text).split(' '))
  const shared = [...mine].filter((word) => theirs.has(word)).length
  return shared >= 0.6 * Math.max(mine.size, theirs.size)
}
