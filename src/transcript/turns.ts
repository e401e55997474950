import type { Piece } from './lay-out.ts'

/**
 * Subtitles mark two people in one cue with dashes: `- Yes. - No.` Each turn becomes a piece of its own and the dashes
 * go: they are neither minus signs nor speech. Only a cue that opens with a dash is read so.
 */
export function splitTurns(text: string): string[] {
  if (!/^\s*[-–—](?:\s+\S|[^\s\d-])/.test(text)) return [text]
  return text
    .split(/(?:^|\n|(?<=[.?!…"'”’)]) )[ \t]{0,9}[-–—](?=\s+\S|[^\s\d-])/)
    .map((turn) => turn.trim())
    .filter((turn) => turn !== '')
}

/** `NAME:` or `[SPEAKER_00]:` before the words of a cue. */
export function takeSpeaker(text: string): { speaker?: string; text: string } {
  const label = /^\s*(?:\[([^\]\n]{1,40})\]:?|([A-Z][A-Z0-9_ .'-]{1,30}|[Ss]peaker[ _]?\w{1,3}):)\s+(?=\S)/.exec(text)
  const speaker = label?.[1] ?? label?.[2]
  if (!label || !speaker || !isSpeakerName(speaker)) return { text }
  return { speaker, text: text.slice(label[0].length) }
}

/** `[music]` is no speaker, and `HIVE 3:` is content. */
function isSpeakerName(label: string): boolean {
  if (/^speaker[ _]?\w{1,3}$/i.test(label)) return true
  return (
    /^[A-Z][A-Z_ .'-]+$/.test(label) &&
    !/^(?:HIVE|NUC|BOX|FRAME|SUPER|NOTE|MUSIC|BLANK|NOISE|SILENCE|QUEEN)/.test(label)
  )
}

export const piecesOf = (text: string, rest: Omit<Piece, 'text' | 'words'>): Piece[] =>
  splitTurns(text).map((turn) => ({ ...rest, ...takeSpeaker(turn) }))
