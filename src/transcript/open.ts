import { CombscribeError } from '../errors.ts'
import { lineOf } from '../span.ts'
import { decode } from './decode.ts'
import { markDoubts, noticesOf } from './doubts.ts'
import { formats } from './formats.ts'
import { readJson } from './json-values.ts'
import { needSpeech } from './need-speech.ts'
import type { OpenOptions, Source } from './source.ts'
import type { Notice, Transcript } from './transcript.ts'

/**
 * Reads what any speech-to-text program wrote. The format is recognised from the content; `name` (a file name) only
 * names the note and stands in messages. Throws a `CombscribeError` and nothing else.
 */
export function openTranscript(bytes: Uint8Array | string, name: string, options: OpenOptions = {}): Transcript {
  const text = decode(bytes, name)
  const json = readJson(text, name)
  const source: Source = { name, text, ...(json && { json: json.values }) }
  const format = formats.find((candidate) => candidate.detect(source))
  if (!format) throw unknownShape(source)
  const found = format.open(source, options)
  const opened = format.asHeard ? found : markDoubts(found, options)
  needSpeech(opened, format, name)
  const notices = [...fileNotices(text, opened.text, json?.cutAt), ...(opened.notices ?? []), ...noticesOf(opened)]
  return {
    name: noteName(name),
    format: format.id,
    ...opened,
    ...(notices.length > 0 && { notices }),
  }
}

/** `yard/2026-05-04 hive 3.srt` → `2026-05-04 hive 3`. */
const noteName = (name: string): string => name.replace(/^.*[/\\]/, '').replace(/(?<=.)\.[a-z][a-z0-9]{1,9}$/i, '')

function fileNotices(text: string, said: string, cutAt: number | undefined): Notice[] {
  const notices: Notice[] = []
  const broken = text.indexOf('\ufffd')
  if (broken >= 0 || said.includes('\ufffd')) {
    const place = broken >= 0 ? `, the first in line ${lineOf(text, broken).line}` : ''
    notices.push({ kind: 'broken-text', message: `broken characters were replaced${place}` })
  }
  if (cutAt !== undefined) {
    const { line } = lineOf(text, cutAt)
    notices.push({ kind: 'cut-off', message: `the file breaks off in line ${line}; what came before was read` })
  }
  return notices
}

function unknownShape({ name, json }: Source): CombscribeError {
  const value = json?.[0]
  const first = Array.isArray(value) ? value[0] : value
  const keys = typeof first === 'object' && first !== null ? Object.keys(first).slice(0, 8) : []
  const found =
    keys.length > 0 ? `its keys are ${keys.map((key) => `"${key.slice(0, 40)}"`).join(', ')}` : 'it has no keys'
  const known = formats.filter((format) => format.id !== 'plain').map((format) => format.title)
  return new CombscribeError(
    'unknown-shape',
    `this JSON has no shape that Combscribe knows (${Array.isArray(value) ? 'an array; ' : ''}${found})`,
    name,
    `known are ${known.join(', ')}, and plain text`,
  )
}
