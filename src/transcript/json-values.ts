import { CombscribeError } from '../errors.ts'
import { lineOf } from '../span.ts'

export interface JsonValues {
  readonly values: readonly unknown[]
  /** Where the file breaks off in the middle of a value, after at least one whole one. */
  readonly cutAt?: number
}

/**
 * The JSON values in a text: one document, JSON Lines, the `data:` lines of an event stream, or objects printed one after
 * another. Undefined when the text is no JSON at all.
 */
export function readJson(file: string, name: string): JsonValues | undefined {
  const text = /\\ud/i.test(file) ? withoutHalves(file) : file
  if (/^\s*(?:event|id|data):/.test(text) && /^data: ?\{/m.test(text)) {
    return readJson(text.replace(/^(?!data: ?\{).*$/gm, '').replace(/^data:/gm, ''), name)
  }
  if (!/^\s*(?:\{\s*["}]|\[\s*(?:[{["\]]|-?\d+\s*,))/.test(text)) return undefined
  try {
    return { values: [JSON.parse(text)] }
  } catch {
    return readSeveral(text, name)
  }
}

/** Escapes of half characters become the replacement character; the length stays. */
const withoutHalves = (text: string): string =>
  text
    .replace(/\\ud[89ab][\da-f]{2}(?!\\ud[c-f][\da-f]{2})/gi, '\\ufffd')
    .replace(/(?<!\\ud[89ab][\da-f]{2})\\ud[c-f][\da-f]{2}/gi, '\\ufffd')

function readSeveral(text: string, name: string): JsonValues {
  const values: unknown[] = []
  let at = skipBlank(text, 0)
  while (at < text.length) {
    const end = valueEnd(text, at)
    if (end === undefined) {
      if (values.length === 0) throw broken(text, name, text.length, 'breaks off in the middle')
      return { values, cutAt: at }
    }
    values.push(parseOne(text.slice(at, end), text, at, name))
    at = skipBlank(text, end)
  }
  return { values }
}

function parseOne(piece: string, text: string, at: number, name: string): unknown {
  try {
    return JSON.parse(piece)
  } catch {
    try {
      // Home-made dumps: Python writes NaN where JSON has no such number.
      return JSON.parse(piece.replace(/([:,[]\s*)-?(?:NaN|Infinity)\b/g, '$1null'))
    } catch (error) {
      const place = /position (\d+)/.exec(String(error))?.[1]
      throw broken(text, name, at + Number(place ?? 0), 'is damaged')
    }
  }
}

const blank = /[\s,\p{Cc}]*/uy
/** Also skips the commas and record marks that some programs print between values. */
function skipBlank(text: string, at: number): number {
  blank.lastIndex = at
  blank.exec(text)
  return blank.lastIndex
}

/** Where the object or array that starts at `at` closes; undefined when the text ends first. */
function valueEnd(text: string, at: number): number | undefined {
  let depth = 0
  const token = /["{}[\]]/g
  token.lastIndex = at
  for (let match = token.exec(text); match; match = token.exec(text)) {
    if (match[0] === '"') {
      const close = stringEnd(text, match.index)
      if (close === undefined) return undefined
      token.lastIndex = close
    } else if (match[0] === '{' || match[0] === '[') depth++
    else if (--depth <= 0) return token.lastIndex
  }
  return undefined
}

function stringEnd(text: string, at: number): number | undefined {
  for (let i = at + 1; i < text.length; i++) {
    const char = text.charCodeAt(i)
    if (char === 92) i++
    else if (char === 34) return i + 1
  }
  return undefined
}

function broken(text: string, name: string, at: number, what: string): CombscribeError {
  const { line } = lineOf(text, at)
  return new CombscribeError(
    'bad-json',
    `the JSON ${what}`,
    `${name}:${line}`,
    'export the transcript again, or hand over its plain text',
  )
}
