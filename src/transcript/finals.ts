import type { Piece } from './lay-out.ts'

/** Only settled words count: unsettled ones are dropped, except at the very end, where the capture broke off. */
export function keepFinals(pieces: readonly Piece[]): Piece[] {
  const finals = pieces.filter((piece) => !piece.partial && piece.text.trim() !== '')
  const last = pieces.at(-1)
  return last?.partial && last.text.trim() !== '' ? [...finals, last] : finals
}
