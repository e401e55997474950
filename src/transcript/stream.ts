import { CombscribeError } from '../errors.ts'
import { formats } from './formats.ts'
import { isObject } from './json-shape.ts'
import type { Segment, TimedWord } from './transcript.ts'

/** What a streaming recogniser says: words that may still change, settled ones, or the last settled ones put right. */
export interface StreamResult {
  readonly kind: 'partial' | 'final' | 'revised'
  readonly text: string
  readonly at?: number
  readonly until?: number
  readonly confidence?: number
  readonly words?: readonly { readonly text: string; readonly at?: number; readonly confidence?: number }[]
}

export interface ResultStream {
  /**
   * Takes one line as it comes: plain words, or JSON of any recogniser that is known (one object a line, over several lines,
   * or as the `data:` of an event stream). Throws a CombscribeError for JSON whose words are not found.
   */
  take(line: string): StreamResult[]
}

/** Results that belong together (a turn told again, a final that grows) come within so many messages. */
const TOGETHER = 12
/** A message longer than this is none. */
const LONGEST = 200_000

export function createStream(name: string): ResultStream {
  let open = ''
  let values: Record<string, unknown>[] = []
  let settled: string[] = []

  function take(line: string): StreamResult[] {
    const message = line.replace(/^data:\s?/, '')
    // a message that never ended: a whole one comes behind it
    if (open !== '' && /^\{.*\}\s*$/.test(message) && parsed(message) !== undefined) open = ''
    const trimmed = (open === '' ? message : `${open}\n${message}`).trim()
    if (open === '' && !/^[{[]\s*(?:$|["{}\]])/.test(trimmed)) {
      if (trimmed === '' || trimmed === '[DONE]' || /^(?:event|id|retry): ?\S*$/.test(trimmed)) return []
      return [{ kind: 'final', text: trimmed }]
    }
    open = ''
    if (depthOf(trimmed) > 0 && trimmed.length < LONGEST) {
      open = trimmed
      return []
    }
    const value = parsed(trimmed)
    if (value === undefined)
      throw new CombscribeError('bad-json', 'a line of broken JSON was passed over', name, 'write one object a line')
    return (Array.isArray(value) ? value : [value]).filter(isObject).flatMap(resultsOf)
  }

  function resultsOf(value: Record<string, unknown>): StreamResult[] {
    // home-made wrappers: a text, and whether it is final
    if (typeof value.text === 'string' && (value.final === false || value.is_final === false))
      return value.text.trim() === '' ? [] : [{ kind: 'partial', text: value.text.trim() }]
    const next = [...values, value].slice(-TOGETHER)
    const source = { name, text: '', json: next }
    const alone = { name, text: '', json: [value] }
    const format =
      formats.find((one) => one.detect(alone)) ?? formats.find((one) => values.length > 0 && one.detect(source))
    if (!format) {
      if (!hasWords(value)) return []
      const keys = Object.keys(value).slice(0, 6).join('", "')
      throw new CombscribeError(
        'unknown-shape',
        `a line of JSON without a "text" or any shape that is known (it has "${keys}") was passed over`,
        name,
        'give one {"text": …} a line',
      )
    }
    const opened = format.open(source, {})
    if (next.length === TOGETHER && values.length === TOGETHER) {
      // the oldest went out of sight, with what it had settled
      settled = textsOf(format.open({ ...source, json: values.slice(1) }, {})).map(({ text }) => text)
    }
    values = next
    const found = textsOf(opened)
    const finals = found.filter(({ partial }) => !partial)
    const out: StreamResult[] = []
    finals.forEach((result, i) => {
      if (settled[i] === result.text) return
      if (i >= settled.length) out.push({ kind: 'final', ...result.result })
      else if (i === settled.length - 1) out.push({ kind: 'revised', ...result.result })
    })
    settled = finals.map(({ text }) => text)
    const last = found.at(-1)
    if (last?.partial) out.push({ kind: 'partial', ...last.result })
    return out
  }

  return { take }
}

interface Heard {
  readonly text: string
  readonly partial: boolean
  readonly result: Omit<StreamResult, 'kind'>
}

/** The stretches of speech of an opened stream, without what was probably never said. */
function textsOf(opened: {
  readonly text: string
  readonly segments: readonly Segment[]
  readonly words?: readonly TimedWord[]
}): Heard[] {
  return opened.segments
    .filter(({ suspect }) => suspect === undefined)
    .map(({ start, end, at, until, confidence, partial }) => {
      const text = opened.text.slice(start, end).replace(/\s+/g, ' ').trim()
      const words = (opened.words ?? [])
        .filter((word) => word.start >= start && word.end <= end && !word.shared)
        .map((word) => ({
          text: opened.text.slice(word.start, word.end),
          ...(word.at !== undefined && { at: word.at }),
          ...(word.confidence !== undefined && { confidence: word.confidence }),
        }))
      return {
        text,
        partial: partial === true,
        result: {
          text,
          ...(at !== undefined && { at }),
          ...(until !== undefined && { until }),
          ...(confidence !== undefined && { confidence }),
          ...(words.length > 0 && { words }),
        },
      }
    })
    .filter(({ text }) => text !== '')
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text)
  } catch {
    return undefined
  }
}

/** How many brackets are open at the end of a piece of JSON. */
function depthOf(text: string): number {
  let depth = 0
  for (const [token] of text.matchAll(/"(?:[^"\\]|\\.)*"|[{}[\]]/g)) {
    if (token === '{' || token === '[') depth++
    else if (token === '}' || token === ']') depth--
  }
  return depth
}

/** Whether a message says anything, under whatever name; greetings and statistics do not. */
const hasWords = (value: unknown): boolean =>
  Array.isArray(value)
    ? value.some(hasWords)
    : isObject(value) &&
      Object.entries(value).some(
        ([key, inner]) =>
          (/text|transcript|content|utterance|sentence|phrase|speech/i.test(key) &&
            typeof inner === 'string' &&
            inner.trim() !== '') ||
          hasWords(inner),
      )
