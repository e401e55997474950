import { clock } from './clock.ts'
import { findLoop } from './loops.ts'
import { scriptOf } from './scripts.ts'
import { isSound, signOff } from './sign-offs.ts'
import type { Opened, OpenOptions } from './source.ts'
import { isTradeWord as defaultTradeWord } from './trade-words.ts'
import type { Notice, Segment } from './transcript.ts'

/** Seconds without a word after which a "thank you" may come from the wind. */
const SILENCE = 4

/**
 * Marks the segments that were probably never said, whatever confidence the engine put on them: invented lines, echoed
 * hints, loops, another script. They stay in the text and give no readings.
 */
export function markDoubts(opened: Opened, options: OpenOptions): Opened {
  const { text } = opened
  const whole = opened.segments.flatMap((segment) => [...splitLoop(text, splitSignOff(text, segment))])
  const isTradeWord = options.isTradeWord ?? defaultTradeWord
  const main = scriptOf(
    whole
      .slice(0, 200)
      .map((segment) => text.slice(segment.start, Math.min(segment.end, segment.start + 200)))
      .join(' '),
  )
  const hint = options.hint ? wordsOf(options.hint) : ''
  const said = whole.map((segment) =>
    segment.end - segment.start > 400 ? '' : wordsOf(text.slice(segment.start, segment.end)),
  )
  const segments = whole.map((segment, index): Segment => {
    if (segment.suspect) return segment
    const suspect = judge(index)
    return suspect ? { ...segment, suspect } : segment
  })
  return { ...opened, segments }

  function judge(index: number): string | undefined {
    const segment = whole[index]!
    const words = said[index]!
    const raw = text.slice(segment.start, Math.min(segment.end, segment.start + 400))
    if (isSound(raw)) return 'no-speech'
    if (words === '') return undefined
    if (isStuck(said, index)) return 'loop'
    if (hint !== '' && isEcho(words, hint)) return 'echoed-hint'
    const script = scriptOf(raw)
    if (script && main && script !== main && whole.length > 1) return 'other-script'
    if (words.split(' ').some(isTradeWord)) return undefined
    const kind = signOff(words)
    const isSilent = (segment.noSpeech ?? 0) > 0.6
    if (kind === 'never') return 'sign-off'
    if (kind && (isSilent || isBesideSilence(whole, index) || isOnClock(whole, said, index))) return 'sign-off'
    return isSilent && (segment.confidence ?? 1) < Math.exp(-1) ? 'no-speech' : undefined
  }
}

const wordsOf = (text: string): string =>
  text
    .toLowerCase()
    .replaceAll('’', "'")
    .replace(/[^\p{L}\p{N}'©]+/gu, ' ')
    .trim()

/** Short phrases of the hint are what a keeper says anyway; five words in its very order are not. */
const isEcho = (words: string, hint: string): boolean =>
  words === hint || (words.split(' ').length >= 5 && ` ${hint} `.includes(` ${words} `))

/** First or last of the file, or after or before a gap in time. */
function isBesideSilence(segments: readonly Segment[], index: number): boolean {
  const { at, until } = segments[index]!
  const before = segments[index - 1]
  const after = segments[index + 1]
  if (!before || !after) return segments.length > 1
  if (at !== undefined && at - (before.until ?? before.at ?? at) >= SILENCE) return true
  return until !== undefined && after.at !== undefined && after.at - until >= SILENCE
}

/** Invented lines come on the decoder's own clock: equal ones at 0:30, 1:00, 1:30. */
function isOnClock(segments: readonly Segment[], said: readonly string[], index: number): boolean {
  const onClock = (at: number | undefined) => at !== undefined && at > 0 && at % 30 === 0
  if (!onClock(segments[index]!.at)) return false
  return segments.some((other, i) => i !== index && onClock(other.at) && said[i] === said[index])
}

/** One of at least five equal neighbours of three words and more; the first of them stays as speech. */
function isStuck(said: readonly string[], index: number): boolean {
  const words = said[index]!
  if (words === '' || words !== said[index - 1] || !/ \S+ /.test(words)) return false
  let from = index
  while (from > 0 && index - from < 5 && said[from - 1] === words) from--
  let to = index
  while (to + 1 < said.length && to - from < 4 && said[to + 1] === words) to++
  return to - from >= 4
}

/** Cuts a loop's later rounds off as a suspect segment of their own. */
function splitLoop(text: string, segments: readonly Segment[]): Segment[] {
  return segments.flatMap((segment) => {
    const loop = findLoop(text.slice(segment.start, segment.end))
    if (!loop) return [segment]
    const [from, to] = [segment.start + loop.from, segment.start + loop.to]
    const parts = [
      { ...segment, end: from },
      { ...segment, start: from, end: to, suspect: 'loop' },
      { ...segment, start: to },
    ]
    return parts.map((part) => trimmed(text, part)).filter((part) => part.end > part.start)
  })
}

/** A sign-off glued to the end of real words, as in text without segments: cut off as a segment of its own. */
function splitSignOff(text: string, segment: Segment): Segment[] {
  if (segment.end - segment.start < 400 && signOff(wordsOf(text.slice(segment.start, segment.end)))) return [segment]
  const tail = text.slice(Math.max(segment.start, segment.end - 120), segment.end)
  const cut = [...tail.matchAll(/[.!?]\s+(?=\p{Lu})/gu)].find(
    ({ index }) => signOff(wordsOf(tail.slice(index + 1))) === 'never',
  )
  if (!cut) return [segment]
  const at = segment.end - tail.length + cut.index + 1
  return [trimmed(text, { ...segment, end: at }), trimmed(text, { ...segment, start: at })]
}

function trimmed(text: string, segment: Segment): Segment {
  const part = text.slice(segment.start, segment.end)
  const lead = part.length - part.trimStart().length
  return { ...segment, start: segment.start + lead, end: segment.start + Math.max(lead, part.trimEnd().length) }
}

const messages: Readonly<Record<string, readonly [kind: Notice['kind'], message: string]>> = {
  'sign-off': ['sign-off', 'closing words that recognisers invent in silence'],
  'no-speech': ['sign-off', 'sounds or words written down where the recogniser heard no speech'],
  loop: ['loop', 'the recogniser got stuck here, and may have missed what was really said'],
  'echoed-hint': ['echoed-hint', 'the recogniser repeated its own hint'],
  'other-script': ['other-script', 'words in another script than the rest'],
  noise: ['sign-off', 'a lone small word, as wind and silence produce them'],
}

/** One notice for each kind of doubt, at its first place, and one for the longest silence and for masked words. */
export function noticesOf({ text, segments }: Pick<Opened, 'text' | 'segments'>): Notice[] {
  const notices = Object.entries(messages).flatMap(([suspect, [kind, message]]): Notice[] => {
    const found = segments.filter((segment) => segment.suspect === suspect)
    const [first] = found
    if (!first) return []
    const count = found.length > 1 ? ` (${found.length} times)` : ''
    return [{ kind, span: { start: first.start, end: first.end }, message: `not read${count}: ${message}` }]
  })
  return [...notices, ...gaps(segments), ...masked(text, segments)]
}

/** Recognisers lose whole windows of 30 seconds without a mark; shorter silences are a keeper at work. */
const LOST = 25

function gaps(segments: readonly Segment[]): Notice[] {
  let longest: { length: number; from: number; to: number; index: number } | undefined
  let count = 0
  const said = segments.filter((segment) => !segment.suspect)
  for (let index = 1; index < said.length; index++) {
    const [from, to] = [said[index - 1]!.until, said[index]!.at]
    if (from === undefined || to === undefined || to - from < LOST) continue
    count++
    if (!longest || to - from > longest.length) longest = { length: to - from, from, to, index }
  }
  if (!longest) return []
  const span = { start: said[longest.index - 1]!.end, end: said[longest.index]!.start }
  const more = count > 1 ? `, the longest of ${count} such gaps` : ''
  return [
    {
      kind: 'gap',
      span,
      message: `nothing was written down from ${clock(longest.from)} to ${clock(longest.to)}${more}; words may be lost there`,
    },
  ]
}

/** A masked oath can hide a word that counts: `s**` was "six" before somebody tidied it. */
function masked(text: string, segments: readonly Segment[]): Notice[] {
  for (const segment of segments) {
    const found = /(?<![\p{L}\p{N}*])\p{L}?\*{2,}\p{L}{0,3}(?![\p{L}\p{N}*])|\[(?:profanity|expletive|__)\]/iu.exec(
      text.slice(segment.start, segment.end),
    )
    if (!found) continue
    const start = segment.start + found.index
    return [
      {
        kind: 'masked',
        span: { start, end: start + found[0].length },
        message: `the recogniser masked a word here ("${found[0]}")`,
      },
    ]
  }
  return []
}
