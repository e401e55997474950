import { CombscribeError } from '../errors.ts'
import { lineOf } from '../span.ts'

/** First bytes of files that people pick by mistake. */
const signatures: readonly (readonly [bytes: string, kind: string])[] = [
  ['\x89PNG', 'a picture (PNG)'],
  ['\xff\xd8\xff', 'a picture (JPEG)'],
  ['GIF8', 'a picture (GIF)'],
  ['BM', 'a picture (BMP)'],
  ['%PDF-', 'a PDF'],
  ['PK\x03\x04', 'a zipped file (ZIP, or an office document)'],
  ['\x1f\x8b', 'a zipped file (gzip)'],
  ['RIFF', 'a sound recording or a picture (RIFF)'],
  ['ID3', 'a sound recording (MP3)'],
  ['\xff\xfb', 'a sound recording (MP3)'],
  ['OggS', 'a sound recording (Ogg)'],
  ['fLaC', 'a sound recording (FLAC)'],
  ['\x1aE\xdf\xa3', 'a film or sound recording (Matroska)'],
  ['\x7fELF', 'a program'],
]

/** Bytes to text, once and for all: everything after this counts in characters of the result. */
export function decode(bytes: Uint8Array | string, name: string): string {
  const text = typeof bytes === 'string' ? bytes.replace(/^\ufeff/, '') : decodeBytes(bytes, name)
  if (text.length === 0) throw new CombscribeError('empty', 'the file is empty', name, 'record the note again')
  if (!/\S/.test(text)) {
    throw new CombscribeError('empty', 'the file holds nothing but blank space', name, 'record the note again')
  }
  const nul = text.indexOf('\0')
  if (nul >= 0) {
    const { line } = lineOf(text, nul)
    throw notText('it holds NUL characters, which no text has', `${name}:${line}`)
  }
  // biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what tells a binary file
  const strange = text.slice(0, 100_000).match(/[\x01-\x08\x0e-\x1a\x1c-\x1f\ufffd]/g)?.length ?? 0
  if (strange * 10 > Math.min(text.length, 100_000)) throw notText('it is a binary file', name)
  return wellFormed(text)
}

function decodeBytes(bytes: Uint8Array, name: string): string {
  const start = String.fromCharCode(...bytes.subarray(0, 12))
  if (start.startsWith('\xff\xfe')) return new TextDecoder('utf-16le').decode(bytes)
  if (start.startsWith('\xfe\xff')) return new TextDecoder('utf-16be').decode(bytes)
  const kind = start.slice(4, 8) === 'ftyp' ? 'a film or sound recording (MP4)' : kindOf(start, bytes)
  if (kind) throw notText(`it is ${kind}`, name)
  const wide = guessUtf16(bytes)
  if (wide) return new TextDecoder(wide).decode(bytes)
  const text = new TextDecoder('utf-8').decode(bytes)
  // Old Windows editors: high bytes that never form a UTF-8 character. JSON is always UTF-8, cut characters included.
  if (text.includes('\ufffd') && !/^\s*[{[]/.test(text) && !/[^\p{ASCII}\ufffd]/u.test(text)) {
    return windows1252(bytes)
  }
  return text
}

/** Node 20 reads this encoding as Latin-1 and leaves 0x80 to 0x9f, where its quotes and dashes are, as they stand. */
const windows1252 = (bytes: Uint8Array): string =>
  new TextDecoder('windows-1252')
    .decode(bytes)
    .replace(/[\u0080-\u009f]/g, (char) => upper[char.charCodeAt(0) - 0x80] ?? char)

const upper = [...'€\u0081‚ƒ„…†‡ˆ‰Š‹Œ\u008dŽ\u008f\u0090‘’“”•–—˜™š›œ\u009džŸ']

/** A short signature such as `BM` also opens a text, so a file that starts like one must hold bytes that text does not. */
function kindOf(start: string, bytes: Uint8Array): string | undefined {
  const found = signatures.find(([signature]) => start.startsWith(signature))
  if (!found) return undefined
  const head = bytes.subarray(0, 4096)
  return found[1] === 'a PDF' || head.some((byte) => byte < 9 || byte > 0xf4) ? found[1] : undefined
}

/** UTF-16 without its mark: every second byte of (mostly Latin) text is zero. */
function guessUtf16(bytes: Uint8Array): 'utf-16le' | 'utf-16be' | undefined {
  const head = bytes.subarray(0, 4096 & ~1)
  let even = 0
  let odd = 0
  for (let i = 0; i < head.length; i++) {
    if (head[i] === 0) i % 2 === 0 ? even++ : odd++
  }
  if (odd * 4 > head.length && even * 20 < head.length) return 'utf-16le'
  if (even * 4 > head.length && odd * 20 < head.length) return 'utf-16be'
  return undefined
}

/** Half characters (lone surrogates) become the replacement character; the length, and with it every offset, stays. */
export function wellFormed(text: string): string {
  return text.replace(/\p{Surrogate}/gu, '\ufffd')
}

function notText(what: string, where: string): CombscribeError {
  return new CombscribeError(
    'not-text',
    `this is not a transcript: ${what}`,
    where,
    'hand over the text, subtitles or JSON that a speech-to-text program wrote',
  )
}
