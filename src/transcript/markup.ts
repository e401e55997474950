import { parseClock } from './clock.ts'

/** What subtitle markup says beside the words. */
export interface Marked {
  readonly text: string
  readonly speaker?: string
  /** Start times (seconds) of the words that follow an inline time, by their place in `text`. */
  readonly times: readonly { readonly from: number; readonly at: number }[]
}

const entities: Readonly<Record<string, string>> = {
  amp: '&',
  lt: '<',
  gt: '>',
  quot: '"',
  apos: "'",
  nbsp: '\u00a0',
  lrm: '',
  rlm: '',
}

/** Tags of WebVTT and of the HTML that SRT files borrow, `{\an8}` positions, character references. */
const MARKUP = /<(\/?[a-z][^<>\n]{0,200})>|<((?:\d+:)?\d\d:\d\d\.\d{3})>|\{\\[^{}\n]{0,80}\}|&(#?\w{1,8});/gi

/** Takes the markup out of a cue. A `<` that opens no tag ("< 10 mites") is text and stays. */
export function readMarkup(payload: string): Marked {
  const times: { from: number; at: number }[] = []
  let speaker: string | undefined
  let text = ''
  let last = 0
  for (const match of payload.matchAll(MARKUP)) {
    const [whole, tag, time, entity] = match
    text += payload.slice(last, match.index)
    last = match.index + whole.length
    if (tag) speaker ??= /^v(?:\.[^\s>]*)?\s+(.+)$/i.exec(tag)?.[1]?.trim()
    else if (time) times.push({ from: text.length, at: parseClock(time) ?? 0 })
    else if (entity) text += reference(entity) ?? whole
  }
  text += payload.slice(last)
  return { text, times, ...(speaker && { speaker }) }
}

function reference(entity: string): string | undefined {
  const number = /^#(?:x([\da-f]+)|(\d+))$/i.exec(entity)
  if (!number) return entities[entity.toLowerCase()]
  const code = number[1] ? Number.parseInt(number[1], 16) : Number(number[2])
  return code > 0 && code <= 0x10ffff && (code < 0xd800 || code > 0xdfff) ? String.fromCodePoint(code) : '\ufffd'
}
