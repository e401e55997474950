import { ORDINALS, TEENS, TENS as WORD_TENS, UNITS as WORD_UNITS } from './number-words.ts'
import { Break, type Word } from './word.ts'

/**
 * Spoken amounts: number words, digits, fractions, decimals, ranges and self-corrected numbers, read from a place in the
 * word list. The reader is greedy within one amount and returns where it stopped; what the amount counts is the
 * grammar's business.
 */
export interface Amount {
  readonly lo: number
  /** Upper end of a range that was said; equals `lo` otherwise. */
  readonly hi: number
  /** Index after the last word used. */
  readonly end: number
  readonly kind: 'integer' | 'fraction' | 'decimal' | 'ordinal'
  /** "percent" was said or written. */
  readonly percent: boolean
  /** `frames` when the unit sits inside the amount ("a frame and a half"). */
  readonly unit?: 'frames'
  /** The number that was taken back ("five, no, six" keeps 5 here). */
  readonly struck?: number
  /** Read from a word that usually is no number ("to frames"). */
  readonly homophone?: boolean
  /** Two numbers said in a row with nothing between ("60, 65"): a range by guess. */
  readonly loose?: boolean
}

/** As in the shared tables, and how recognisers and keepers say them besides. */
const UNITS = { __proto__: null as never, ...WORD_UNITS, zero: 0, nought: 0, naught: 0, oh: 0 } as Record<
  string,
  number
>
const TENS = { __proto__: null as never, ...WORD_TENS, fourty: 40 } as Record<string, number>

const PARTS: Record<string, number> = {
  __proto__: null as never,
  half: 1 / 2,
  halves: 1 / 2,
  third: 1 / 3,
  thirds: 1 / 3,
  quarter: 1 / 4,
  quarters: 1 / 4,
  fourth: 1 / 4,
  fourths: 1 / 4,
  fifth: 1 / 5,
  fifths: 1 / 5,
  sixth: 1 / 6,
  sixths: 1 / 6,
  seventh: 1 / 7,
  sevenths: 1 / 7,
  eighth: 1 / 8,
  eighths: 1 / 8,
  ninth: 1 / 9,
  ninths: 1 / 9,
  tenth: 1 / 10,
  tenths: 1 / 10,
}
/** Words that recognisers write for numbers; taken only before a countable thing. */
const HOMOPHONES: Record<string, number> = {
  __proto__: null as never,
  to: 2,
  too: 2,
  for: 4,
  fore: 4,
  ate: 8,
  won: 1,
  tree: 3,
  free: 3,
  sex: 6,
  niner: 9,
}
const COUNTABLE = new Set([
  'frame',
  'frames',
  'comb',
  'combs',
  'seam',
  'seams',
  'beetle',
  'beetles',
  'mite',
  'mites',
  'super',
  'supers',
  'cells',
  'cups',
  'litres',
  'liters',
  'kilos',
  'pounds',
  'boxes',
  'deeps',
  'mediums',
  'ideals',
  'strips',
  'traps',
  'sides',
  'percent',
])
const FRAME = new Set(['frame', 'frames', 'comb', 'combs', 'bar', 'bars', 'tray', 'trays'])
const TAKEN_BACK = new Set(['no', 'sorry', 'wait', 'rather', 'actually', 'scratch', 'correction', 'make'])
const TAKEN_BACK_MORE = new Set([
  'no',
  'sorry',
  'wait',
  'rather',
  'actually',
  'that',
  'make',
  'it',
  'hang',
  'hold',
  'on',
  'i',
  'mean',
  'er',
  'uh',
  'um',
  'there',
  "'s",
  'is',
  'are',
  'lie',
  'tell',
  'a',
  'or',
  'strike',
  'scratch',
  'say',
  'nope',
  'nah',
  'correction',
  'call',
])

const round = (x: number): number => Math.round(x * 1000) / 1000

interface Part {
  value: number
  end: number
  kind: Amount['kind']
}

const norm = (words: readonly Word[], i: number): string => words[i]?.norm ?? ''
/** Steps over hesitations. */
const step = (words: readonly Word[], i: number): number => {
  let j = i
  while (j < words.length && words[j]!.filler && words[j]!.brk < Break.hard) j++
  return j
}

/** The amount that starts at word `i`, or undefined. */
export function readAmount(words: readonly Word[], i: number): Amount | undefined {
  const framed = frameAmount(words, i)
  if (framed) return framed
  const first = readNumber(words, i, true)
  if (!first) return homophone(words, i)
  return finish(words, first)
}

function finish(words: readonly Word[], first: Part): Amount {
  let { value: lo, end, kind } = first
  let hi = lo
  let struck: number | undefined
  let loose = false
  // "six or seven", "10 to 12", "between three and four", "7-8"
  const joiner = norm(words, end)
  if (
    (joiner === 'or' ||
      joiner === 'to' ||
      joiner === 'through' ||
      joiner === 'maybe' ||
      (joiner === 'and' && isBetween(words, first))) &&
    words[end]!.brk < Break.hard
  ) {
    let next = end + 1
    if (joiner === 'or' && norm(words, next) === 'maybe') next++
    if (joiner === 'or' && norm(words, next) === 'so') {
      end = next + 1
    } else {
      const second = readNumber(words, step(words, next), false)
      if (
        second &&
        second.value > lo &&
        kind !== 'ordinal' &&
        second.kind !== 'ordinal' &&
        plausibleRange(joiner, lo, second.value)
      ) {
        hi = second.value
        if (kind === 'integer' && second.kind !== 'integer') kind = second.kind
        end = second.end
      }
    }
  }
  // "60, 65" and "five, six": neighbours said in a row
  if (hi === lo && words[end] && words[end]!.brk === Break.soft && words[end - 1]!.mark === ',') {
    const second = readNumber(words, end, false)
    if (
      second &&
      second.kind === 'integer' &&
      kind === 'integer' &&
      neighbours(lo, second.value) &&
      !listGoesOn(words, second.end)
    ) {
      hi = second.value
      end = second.end
      loose = true
    }
  }
  // "five, no, six"
  const back = takenBack(words, end)
  if (back) {
    struck = lo
    lo = back.value
    hi = back.value
    kind = back.kind
    end = back.end
    loose = false
  }
  let percent = false
  if (norm(words, end) === 'percent' || (norm(words, end) === 'per' && norm(words, end + 1) === 'cent')) {
    percent = true
    end += norm(words, end) === 'percent' ? 1 : 2
  }
  return {
    lo: round(lo),
    hi: round(hi),
    end,
    kind,
    percent,
    ...(struck === undefined ? {} : { struck }),
    ...(loose ? { loose } : {}),
  }
}

const neighbours = (a: number, b: number): boolean =>
  b > a && (b - a === 1 ? a < 30 : (b - a === 5 || b - a === 10) && a % 5 === 0 && a >= 20 && a < 100)
const plausibleRange = (joiner: string, lo: number, hi: number): boolean =>
  joiner === 'to' ? hi > lo && hi <= Math.max(12, lo * 4) : hi > lo && hi <= Math.max(12, lo * 3)

function listGoesOn(words: readonly Word[], i: number): boolean {
  const w = words[i]
  return (
    w !== undefined &&
    (w.brk === Break.soft || w.norm === 'and' || w.norm === 'or') &&
    readNumber(words, w.norm === 'and' || w.norm === 'or' ? i + 1 : i, false) !== undefined
  )
}

function isBetween(words: readonly Word[], first: Part): boolean {
  for (let i = first.end - 2; i >= Math.max(0, first.end - 5); i--) if (words[i]!.norm === 'between') return true
  return false
}

/** "…, no, six" · "no wait six" · "sorry, five" · "no make it six": the new number, if words from `i` on take one back. */
function takenBack(words: readonly Word[], i: number): Part | undefined {
  const start = step(words, i)
  if (!TAKEN_BACK.has(norm(words, start))) return undefined
  if (norm(words, start) === 'make' && !(norm(words, start + 1) === 'that' || norm(words, start + 1) === 'it'))
    return undefined
  let j = start + 1
  while (
    j < words.length &&
    j < start + 6 &&
    (TAKEN_BACK_MORE.has(words[j]!.norm) || words[j]!.filler) &&
    !readNumber(words, j, false)
  )
    j++
  const second = readNumber(words, j, false)
  if (!second || second.kind === 'ordinal') return undefined
  // "four. No five-frame nucs" style denials have the noun right behind "no": only a number that ends the phrase or keeps its unit counts
  return second
}

function frameAmount(words: readonly Word[], i: number): Amount | undefined {
  // "a frame and a half", "one frame and a bit", "half a frame", "a half frame", "three quarters of a frame"
  const w = norm(words, i)
  const noun = /^(good|nice|full|whole|solid|decent|big|fat)$/.test(norm(words, i + 1)) ? i + 2 : i + 1
  if ((w === 'a' || w === 'one' || w === '1') && FRAME.has(norm(words, noun)) && norm(words, noun + 1) === 'and') {
    const part = readNumber(words, noun + 2, true)
    if (part && part.kind === 'fraction' && part.value < 1)
      return {
        lo: round(1 + part.value),
        hi: round(1 + part.value),
        end: part.end,
        kind: 'fraction',
        percent: false,
        unit: 'frames',
      }
    if (norm(words, noun + 2) === 'a' && norm(words, noun + 3) === 'bit')
      return { lo: 1, hi: 1.5, end: noun + 4, kind: 'fraction', percent: false, unit: 'frames', loose: true }
  }
  const part = readNumber(words, i, false)
  if (part && part.kind === 'fraction') {
    let j = part.end
    if (norm(words, j) === 'of') j++
    if (norm(words, j) === 'a' && FRAME.has(norm(words, j + 1)))
      return {
        lo: round(part.value),
        hi: round(part.value),
        end: j + 2,
        kind: 'fraction',
        percent: false,
        unit: 'frames',
      }
  }
  return undefined
}

function homophone(words: readonly Word[], i: number): Amount | undefined {
  const word = words[i]
  if (!word) return undefined
  const value = HOMOPHONES[word.norm]
  const next = norm(words, i + 1)
  if (value === undefined) return undefined
  const halved = next === 'and' && norm(words, i + 2) === 'a' && norm(words, i + 3) === 'half'
  // "hive too", "frame won", "number ate"
  const before = i > 0 && words[i]!.brk <= Break.inferred ? norm(words, i - 1) : ''
  if (
    /^(hive|number|frame|nuc|colony)$/.test(before) &&
    (!/^(the|a|be|go|get|see|have|give|make|move|put|take|some|this|that|me|us|them|it|my|me|now)$/.test(next) ||
      (next === 'this' && norm(words, i + 2) === 'is'))
  )
    return { lo: value, hi: value, end: i + 1, kind: 'integer', percent: false, homophone: true }
  const beyond = norm(words, i + 2)
  if (/^(each|every|both|all)$/.test(next)) return undefined
  const counted =
    COUNTABLE.has(next) ||
    (next === 'of' && beyond === 'them') ||
    (/^(swarm|queen|sealed|capped|open|charged|play|brood|honey|drawn|good|full|big|dead)$/.test(next) &&
      COUNTABLE.has(beyond))
  if (!counted && !halved) return undefined
  if (
    (word.norm === 'to' || word.norm === 'for' || word.norm === 'free') &&
    i > 0 &&
    words[i]!.brk === Break.none &&
    /^(go|have|got|want|look|there|frames?|room|is|add|ready|\d+)$/.test(norm(words, i - 1))
  )
    return undefined
  if (halved) return { lo: value + 0.5, hi: value + 0.5, end: i + 4, kind: 'fraction', percent: false, homophone: true }
  return { lo: value, hi: value, end: i + 1, kind: 'integer', percent: false, homophone: true }
}

/** One number without range, correction or percent sign. `alone` allows "a third", "half" as a number on their own. */
function readNumber(words: readonly Word[], start: number, alone: boolean): Part | undefined {
  const i = start
  const w = norm(words, i)
  if (w === '') return undefined
  const glued = (j: number): boolean => words[j] !== undefined && words[j]!.brk <= Break.inferred
  // leading article: "a hundred", "a couple", "a half", "a third"
  if (w === 'a' || w === 'an') {
    const n = norm(words, i + 1)
    if (!glued(i + 1)) return undefined
    if (n === 'hundred' || n === 'thousand' || /^\d+$/.test(n)) return scaled(words, i + 1, 1)
    if (n === 'couple' || n === 'pair' || n === 'brace')
      return {
        value: 2,
        end: n === 'couple' && norm(words, i + 2) === 'of' ? i + 3 : norm(words, i + 2) === 'of' ? i + 3 : i + 2,
        kind: 'integer',
      }
    if (n === 'dozen') return { value: 12, end: i + 2, kind: 'integer' }
    if (n === 'half' && norm(words, i + 2) === 'dozen') return { value: 6, end: i + 3, kind: 'integer' }
    if ((n === 'good' || n === 'bare' || n === 'full') && norm(words, i + 2) === 'half')
      return { value: 0.5, end: i + 3, kind: 'fraction' }
    if (
      PARTS[n] !== undefined &&
      n !== 'second' &&
      (ORDINALS[n] === undefined || norm(words, i + 2) === 'of' || alone) &&
      !FRAME.has(norm(words, i + 2))
    )
      return { value: PARTS[n]!, end: i + 2, kind: 'fraction' }
    return undefined
  }
  // "hundred this side, ninety the other"
  if (w === 'hundred' && (callsFrame(words, i - 1) || words[i]!.brk >= Break.soft || !SCALES.test(norm(words, i - 1))))
    return { value: 100, end: i + 1, kind: 'integer' }
  if (w === 'couple') return { value: 2, end: norm(words, i + 1) === 'of' ? i + 2 : i + 1, kind: 'integer' }
  if (w === 'dozen') return { value: 12, end: i + 1, kind: 'integer' }
  if (w === 'half') {
    if (norm(words, i + 1) === 'a' && norm(words, i + 2) === 'dozen') return { value: 6, end: i + 3, kind: 'integer' }
    return { value: 0.5, end: i + 1, kind: 'fraction' }
  }
  if (w === 'quarter') return { value: 0.25, end: i + 1, kind: 'fraction' }
  if (w === 'point' && glued(i + 1)) {
    const digits = readDigits(words, i + 1)
    if (digits) return { value: Number(`0.${digits.text}`), end: digits.end, kind: 'decimal' }
  }
  if (/^\d+\/\d+$/.test(w)) {
    const [a, b] = w.split('/').map(Number)
    return b ? { value: a! / b, end: i + 1, kind: 'fraction' } : undefined
  }
  if (/^\d*\.\d+$/.test(w)) return { value: Number(w), end: i + 1, kind: 'decimal' }
  if (/^\d+(st|nd|rd|th)$/.test(w)) return { value: Number.parseInt(w, 10), end: i + 1, kind: 'ordinal' }
  if (/^\d+$/.test(w)) {
    const value = Number(w)
    const next = norm(words, i + 1)
    if (glued(i + 1) && /^\d+\/\d+$/.test(next)) {
      const [a, b] = next.split('/').map(Number)
      if (b) return { value: value + a! / b, end: i + 2, kind: 'fraction' }
    }
    if (glued(i + 1) && (next === 'hundred' || next === 'thousand')) return scaled(words, i, value)
    if (glued(i + 1) && next === 'point') {
      const digits = readDigits(words, i + 2)
      if (digits) return { value: Number(`${value}.${digits.text}`), end: digits.end, kind: 'decimal' }
    }
    if (
      glued(i + 1) &&
      value < 10 &&
      PARTS[next] !== undefined &&
      (next.endsWith('s') || value === 1) &&
      next !== 'halves'
    )
      return { value: value * PARTS[next]!, end: i + 2, kind: 'fraction' }
    return andPart(words, { value, end: i + 1, kind: 'integer' })
  }
  if (ORDINALS[w] !== undefined)
    return w === 'second' && norm(words, i + 1) === 'thoughts'
      ? undefined
      : { value: ORDINALS[w]!, end: i + 1, kind: 'ordinal' }
  const small = UNITS[w] ?? TEENS[w] ?? TENS[w]
  if (small === undefined) return undefined
  if (w === 'oh') return undefined
  let value = small
  let end = i + 1
  if (TENS[w] !== undefined && glued(end)) {
    const unit = UNITS[norm(words, end)]
    const ordinal = ORDINALS[norm(words, end)]
    if (unit !== undefined && unit > 0 && norm(words, end) !== 'oh') {
      value += unit
      end++
    } else if (ordinal !== undefined && ordinal < 10) return { value: value + ordinal, end: end + 1, kind: 'ordinal' }
  }
  if (glued(end) && !callsFrame(words, i) && (norm(words, end) === 'hundred' || norm(words, end) === 'thousand'))
    return scaled(words, end, value)
  if (glued(end) && norm(words, end) === 'point') {
    const digits = readDigits(words, end + 1)
    if (digits) return { value: Number(`${value}.${digits.text}`), end: digits.end, kind: 'decimal' }
  }
  const part = norm(words, end)
  if (
    glued(end) &&
    value < 10 &&
    PARTS[part] !== undefined &&
    (part.endsWith('s') || (value === 1 && part !== 'second'))
  ) {
    return { value: value * PARTS[part]!, end: end + 1, kind: 'fraction' }
  }
  return andPart(words, { value, end, kind: 'integer' })
}

/** Words before "hundred" that it multiplies, or that make it vague. */
const SCALES =
  /^(a|an|few|couple|several|many|of|per|half|hundred|\d+|one|two|three|four|five|six|seven|eight|nine|\w+ty|\w+teen|ten|eleven|twelve)$/

/** "Frame two hundred this side": no frame has such a number. */
const callsFrame = (words: readonly Word[], i: number): boolean => i > 0 && FRAME.has(norm(words, i - 1))

/** What is weighed or measured in halves. */
const MEASURE = /^(kilos?|kgs?|pounds?|lbs?|litres?|liters?|degrees|miles|gallons?|stone|grams|acres|dollars|quid)$/

/** "three and a half", "two and two thirds", "eight and a quarter" */
function andPart(words: readonly Word[], whole: Part): Part {
  if (norm(words, whole.end) !== 'and' || words[whole.end]!.brk > Break.soft) return whole
  let j = whole.end + 1
  if (words[j] && words[j]!.brk > Break.soft && norm(words, j) !== 'a') return whole
  if (norm(words, j) === 'a') j++
  const w = norm(words, j)
  // "sixty and a half": nobody halves a percent, these are two faces
  if (whole.value >= 20 && whole.value % 5 === 0 && w === 'half' && !MEASURE.test(norm(words, j + 1))) return whole
  if (
    (w === 'half' || w === 'quarter' || w === 'third') &&
    norm(words, j + 1) !== 'dozen' &&
    !(j === whole.end + 1 && FRAME.has(norm(words, j + 2)))
  )
    return { value: whole.value + PARTS[w]!, end: j + 1, kind: 'fraction' }
  const count = UNITS[w] ?? (/^\d$/.test(w) ? Number(w) : undefined)
  const part = PARTS[norm(words, j + 1)]
  if (count !== undefined && count > 0 && part !== undefined && norm(words, j + 1).endsWith('s') && count * part < 1)
    return { value: whole.value + count * part, end: j + 2, kind: 'fraction' }
  return whole
}

/** "two hundred and fifty", "fifteen hundred", "3 thousand five hundred"; `i` is the index of the multiplier or digits. */
function scaled(words: readonly Word[], i: number, count: number): Part {
  let end = i
  let total = 0
  let current = count
  if (/^\d+$/.test(norm(words, end))) {
    current = Number(norm(words, end))
    end++
  }
  while (end < words.length) {
    const w = norm(words, end)
    if (words[end]!.brk > Break.inferred) break
    if (w === 'hundred') current *= 100
    else if (w === 'thousand') {
      total += current * 1000
      current = 0
    } else if (
      w === 'and' ||
      UNITS[w] !== undefined ||
      TEENS[w] !== undefined ||
      TENS[w] !== undefined ||
      /^\d{1,3}$/.test(w)
    ) {
      const from = w === 'and' ? end + 1 : end
      if (w === 'and' && norm(words, from) === 'a') break
      const small = smallNumber(words, from)
      if (!small || (current > 0 && small.value >= 100)) break
      const follows = norm(words, small.end)
      if (follows === 'hundred' && total > 0) {
        current += small.value * 100
        end = small.end + 1
        continue
      }
      // "three hundred and one on Hope": "and" before a number that has its own object is a list, not a sum
      if (w === 'and' && small.value < 10 && /^(on|in|for|from|of)$/.test(follows)) break
      current += small.value
      end = small.end
      continue
    } else break
    end++
  }
  return { value: total + current, end, kind: 'integer' }
}

function smallNumber(words: readonly Word[], i: number): { value: number; end: number } | undefined {
  const w = norm(words, i)
  if (/^\d{1,3}$/.test(w)) return { value: Number(w), end: i + 1 }
  const value = TENS[w] ?? TEENS[w] ?? UNITS[w]
  if (value === undefined || w === 'oh') return undefined
  const unit = UNITS[norm(words, i + 1)]
  if (TENS[w] !== undefined && unit !== undefined && unit > 0 && norm(words, i + 1) !== 'oh')
    return { value: value + unit, end: i + 2 }
  return { value, end: i + 1 }
}

function readDigits(words: readonly Word[], i: number): { text: string; end: number } | undefined {
  let text = ''
  let end = i
  while (end < words.length && (end === i || words[end]!.brk === Break.none)) {
    const w = norm(words, end)
    const unit = UNITS[w]
    if (unit !== undefined) text += String(unit)
    else if (/^\d+$/.test(w) && text === '') text += w
    else if (TEENS[w] !== undefined && text === '') text += String(TEENS[w])
    else if (TENS[w] !== undefined && text === '') text += String(TENS[w]! / 10)
    else break
    end++
    if (text.length >= 3) break
  }
  return text === '' ? undefined : { text, end }
}

/** Whether a word by itself is, or begins or ends, a number or a usual part of one. */
export const isNumberWord = (word: string): boolean =>
  oneWordNumber(word) !== undefined ||
  WORD_TENS[word] !== undefined ||
  /^(zero|hundred|thousand|half|quarter|dozen)$/.test(word)

/** The place in a row that an ordinal names: "second", "twelfth". */
export const ordinalOf = (word: string): number | undefined => ORDINALS[word]

/** One to nineteen said in one word. */
export const oneWordNumber = (word: string): number | undefined => WORD_UNITS[word] ?? TEENS[word]

/** A whole number up to ninety-nine, or up to three digits, said plainly at word `i`, and where it ends. */
export function plainNumberAt(words: readonly Word[], i: number): { n: number; end: number } | undefined {
  const w = words[i]!.norm
  if (/^\d{1,3}$/.test(w)) return { n: Number(w), end: i + 1 }
  const ten = WORD_TENS[w]
  if (ten !== undefined) {
    const unit = WORD_UNITS[words[i + 1]?.norm ?? '']
    return unit === undefined ? { n: ten, end: i + 1 } : { n: ten + unit, end: i + 2 }
  }
  const one = oneWordNumber(w)
  return one !== undefined && WORD_TENS[words[i - 1]?.norm ?? ''] === undefined ? { n: one, end: i + 1 } : undefined
}
