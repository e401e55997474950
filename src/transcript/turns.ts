import type { Span } from '../span.ts'
import type { Piece, Turn } from './lay-out.ts'

/**
 * A cue with its turns. Subtitles mark two people in one cue with dashes, `- Yes. - No.`, and name them with labels: both
 * stay in the text, between the turns, since they are neither minus signs nor speech.
 */
export function cuePiece(text: string, rest: Omit<Piece, 'text' | 'words' | 'turns'>): Piece {
  const said = text.trim()
  return { ...rest, text: said, turns: splitTurns(said).map((span) => takeSpeaker(said, span)) }
}

/** Only a cue that opens with a dash is read as a dialogue; "-5 degrees" does not. */
function splitTurns(text: string): Span[] {
  if (!/^[-–—](?:\s+\S|[^\s\d-])/.test(text)) return [{ start: 0, end: text.length }]
  const dashes = [...text.matchAll(/(?:^|\n|(?<=[.?!…"'”’)]) )[ \t]{0,9}[-–—](?=\s+\S|[^\s\d-])/g)]
  return dashes.map((dash, index) => ({
    start: dash.index + dash[0].length,
    end: dashes[index + 1]?.index ?? text.length,
  }))
}

/** `NAME:` or `[SPEAKER_00]:` before the words. */
function takeSpeaker(text: string, { start, end }: Span): Turn {
  const said = text.slice(start, end)
  const label = /^\s*(?:\[([^\]\n]{1,40})\]:?|([A-Z][A-Z0-9_ .'-]{1,30}|[Ss]peaker[ _]?\w{1,3}):)\s+(?=\S)/.exec(said)
  const speaker = label?.[1] ?? label?.[2]
  const isNamed = label && speaker && isSpeakerName(speaker)
  const lead = isNamed ? label[0].length : said.length - said.trimStart().length
  const span = { start: start + lead, end: start + Math.max(lead, said.trimEnd().length) }
  return isNamed ? { ...span, speaker } : span
}

/** `[music]` is no speaker, and `HIVE 3:` is content. */
function isSpeakerName(label: string): boolean {
  if (/^speaker[ _]?\w{1,3}$/i.test(label)) return true
  const isContent = /^(?:HIVE|NUC|BOX|FRAME|SUPER|NOTE|MUSIC|BLANK|NOISE|SILENCE|QUEEN)/.test(label)
  return /^[A-Z][A-Z_ .'-]+$/.test(label) && !isContent
}
