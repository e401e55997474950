import { ORDINALS, TEENS, UNITS } from './number-words.ts'
import { Break, type Word } from './word.ts'

/** When something is or was, as said; resolved against the note's own date by `resolveDate`. */
export type DateSpec =
  | { readonly kind: 'days'; readonly days: number }
  | {
      readonly kind: 'weekday'
      readonly weekday: number
      readonly which: 'coming' | 'next' | 'week-after' | 'fortnight-after' | 'last'
    }
  | {
      readonly kind: 'day'
      readonly day: number
      readonly month?: number
      readonly year?: number
      readonly weekday?: number
    }
  | { readonly kind: 'months'; readonly months: number }
  | { readonly kind: 'vague'; readonly words: string }

export interface SpokenDate {
  readonly spec: DateSpec
  readonly end: number
}

const WEEKDAYS = ['sunday', 'monday', 'tuesday', 'wednesday', 'thursday', 'friday', 'saturday']
const MONTHS = [
  'january',
  'february',
  'march',
  'april',
  'may',
  'june',
  'july',
  'august',
  'september',
  'october',
  'november',
  'december',
]
const SHORT_MONTHS: Record<string, number> = {
  __proto__: null as never,
  jan: 1,
  feb: 2,
  mar: 3,
  apr: 4,
  jun: 6,
  jul: 7,
  aug: 8,
  sep: 9,
  sept: 9,
  oct: 10,
  nov: 11,
  dec: 12,
}
/** Days and counts of weeks go no further than this. */
const NUMBERS = {
  __proto__: null as never,
  ...UNITS,
  ...TEENS,
  a: 1,
  an: 1,
  couple: 2,
  twenty: 20,
  thirty: 30,
} as Record<string, number>
/** Days with a fixed date that keepers name. Sources: public calendars. */
const FEASTS: Record<string, { readonly rest?: string; readonly day: number; readonly month: number }> = {
  halloween: { day: 31, month: 10 },
  christmas: { day: 25, month: 12 },
  boxing: { rest: 'day', day: 26, month: 12 },
  anzac: { rest: 'day', day: 25, month: 4 },
  new: { rest: 'year', day: 1, month: 1 },
  canada: { rest: 'day', day: 1, month: 7 },
  bonfire: { rest: 'night', day: 5, month: 11 },
  waitangi: { rest: 'day', day: 6, month: 2 },
  australia: { rest: 'day', day: 26, month: 1 },
}

const norm = (words: readonly Word[], i: number): string => words[i]?.norm ?? ''
const month = (w: string): number | undefined => {
  const i = MONTHS.indexOf(w)
  return i >= 0 ? i + 1 : SHORT_MONTHS[w]
}

/** A day of the month: "the tenth", "10th", "twenty eighth", "12" (digits alone only when `bare`). */
function dayAt(words: readonly Word[], i: number, bare: boolean): { day: number; end: number } | undefined {
  const w = norm(words, i)
  if (
    (w === 'twenty' || w === 'thirty') &&
    ORDINALS[norm(words, i + 1)] !== undefined &&
    ORDINALS[norm(words, i + 1)]! < 10
  )
    return { day: (w === 'twenty' ? 20 : 30) + ORDINALS[norm(words, i + 1)]!, end: i + 2 }
  if (bare && NUMBERS[w] !== undefined && w !== 'a' && w !== 'an' && w !== 'couple') {
    const unit = NUMBERS[norm(words, i + 1)]
    if ((w === 'twenty' || w === 'thirty') && unit !== undefined && unit < 10)
      return { day: NUMBERS[w]! + unit, end: i + 2 }
    return { day: NUMBERS[w]!, end: i + 1 }
  }
  if (/^\d{1,2}(st|nd|rd|th)$/.test(w)) return { day: Number.parseInt(w, 10), end: i + 1 }
  if (ORDINALS[w] !== undefined) return { day: ORDINALS[w]!, end: i + 1 }
  if (bare && /^\d{1,2}$/.test(w) && Number(w) >= 1 && Number(w) <= 31) return { day: Number(w), end: i + 1 }
  return undefined
}

/**
 * The date that starts at word `i`. Only forms that can be nothing else are read here ("next saturday", "on the 28th",
 * "in ten days", "tenth of october", "a week today"); a bare number never is.
 */
export function dateAt(words: readonly Word[], i: number): SpokenDate | undefined {
  let at = i
  const w = norm(words, at)
  if (w === 'on' || w === 'by' || w === 'for' || w === 'until' || w === 'till' || w === 'come') {
    const inner = dateAt(words, at + 1)
    return inner && words[at + 1] && words[at + 1]!.brk < Break.hard ? inner : undefined
  }
  if (w === 'tomorrow')
    return {
      spec: { kind: 'days', days: 1 },
      end: /^(night|morning|evening|afternoon)$/.test(norm(words, at + 1)) ? at + 2 : at + 1,
    }
  if (w === 'tonight' || w === 'today') return { spec: { kind: 'days', days: 0 }, end: at + 1 }
  if (w === 'this' && /^(afternoon|evening)$/.test(norm(words, at + 1)))
    return { spec: { kind: 'days', days: 0 }, end: at + 2 }
  if (w === 'this' && norm(words, at + 1) === 'weekend')
    return { spec: { kind: 'weekday', weekday: 6, which: 'coming' }, end: at + 2 }
  // "at the weekend", "by the weekend"
  const led = /^(at|over)$/.test(w) ? at + 1 : at
  if (norm(words, led) === 'the' && norm(words, led + 1) === 'weekend')
    return { spec: { kind: 'weekday', weekday: 6, which: 'coming' }, end: led + 2 }
  const feast = Object.hasOwn(FEASTS, w) ? FEASTS[w] : undefined
  if (feast && (!feast.rest || norm(words, at + 1) === feast.rest)) {
    const { rest, day, month } = feast
    return { spec: { kind: 'day', day, month }, end: at + (rest ? 2 : 1) }
  }
  const span = spanAt(words, at)
  if (span) return span
  const weekday = weekdayAt(words, at)
  if (weekday) return weekday
  if (w === 'the') at++
  const day = dayAt(words, at, false)
  if (day) {
    let end = day.end
    if (norm(words, end) === 'of') end++
    const m = month(norm(words, end))
    if (m !== undefined && words[end]!.brk < Break.soft) return withYear(words, { day: day.day, month: m }, end + 1)
    if (norm(words, day.end) === 'of' && (norm(words, day.end + 1) === 'the' || norm(words, day.end + 1) === 'next')) {
      const second = dayAt(words, day.end + 2, false)
      if (second && second.day <= 12 && norm(words, day.end + 1) === 'the')
        return { spec: { kind: 'day', day: day.day, month: second.day }, end: second.end }
    }
    // "the 28th" alone: only with "the" before it
    if (
      w === 'the' &&
      day.day <= 31 &&
      ((words[day.end]?.brk ?? Break.hard) >= Break.soft ||
        !/^(frame|frames|one|comb|box|super|hive|side|time|thing|of|bit|row|colony|queen|deep|nuc|two|three|few|lot|cell|seam|week|round|dose|treatment|day|year|season|spring|winter)$/.test(
          norm(words, day.end),
        ))
    )
      return { spec: { kind: 'day', day: day.day }, end: day.end }
    return undefined
  }
  const m = month(norm(words, at))
  if (
    (m !== undefined && !(norm(words, at) === 'may' || norm(words, at) === 'march' || norm(words, at) === 'mar')) ||
    (m !== undefined && dayAt(words, at + 1, true))
  ) {
    let j = at + 1
    if (norm(words, j) === 'the') j++
    const d = dayAt(words, j, true)
    if (d && words[j]!.brk < Break.soft) return withYear(words, { day: d.day, month: m! }, d.end)
  }
  // "28 september", "12 april"
  const plain = dayAt(words, at, true)
  if (plain && w !== 'the') {
    const of = norm(words, plain.end) === 'of' ? 1 : 0
    const pm = month(norm(words, plain.end + of))
    if (
      pm !== undefined &&
      words[plain.end]!.brk === Break.none &&
      !(norm(words, plain.end) === 'may' && of === 0 && !/^\d/.test(w))
    )
      return withYear(words, { day: plain.day, month: pm }, plain.end + of + 1)
  }
  return undefined
}

function withYear(words: readonly Word[], date: { day: number; month: number }, end: number): SpokenDate | undefined {
  if (date.day > 31) return undefined
  const y = norm(words, end)
  if (/^20\d\d$/.test(y)) return { spec: { kind: 'day', ...date, year: Number(y) }, end: end + 1 }
  return { spec: { kind: 'day', ...date }, end }
}

/** "in ten days", "two weeks", "a fortnight", "three weeks time", "a week today", "in a month". */
function spanAt(words: readonly Word[], i: number): SpokenDate | undefined {
  let at = i
  let led = false
  // "give it two weeks"
  if (/^(give|leave)$/.test(norm(words, at)) && /^(it|them|her|these|this|that)$/.test(norm(words, at + 1))) {
    if (!/^(days?|weeks?|fortnight)$/.test(norm(words, at + 3)) && norm(words, at + 2) !== 'another') return undefined
    led = true
    at += 2
  }
  if (/^(in|within|after|another)$/.test(norm(words, at))) {
    led = true
    at++
  }
  if (norm(words, at) === 'about' || norm(words, at) === 'another') at++
  let count: number | undefined
  const w = norm(words, at)
  if (/^\d{1,3}$/.test(w)) count = Number(w)
  else if (NUMBERS[w] !== undefined) count = NUMBERS[w]
  if (w === 'a' && norm(words, at + 1) === 'couple') {
    count = 2
    at++
  }
  if (w === 'next' && norm(words, at + 1) === 'week') return { spec: { kind: 'days', days: 7 }, end: at + 2 }
  if (w === 'next' && norm(words, at + 1) === 'weekend')
    return { spec: { kind: 'weekday', weekday: 6, which: 'next' }, end: at + 2 }
  if (count === undefined) return undefined
  let j = at + 1
  if (norm(words, j) === 'of') j++
  let unit = norm(words, j)
  if (/^(or|to)$/.test(unit)) {
    // "two or three weeks": too vague for a day
    const third = norm(words, j + 1)
    if (
      (NUMBERS[third] !== undefined || /^\d+$/.test(third)) &&
      /^(days?|weeks?|months?)$/.test(norm(words, j + 2)) &&
      led
    )
      return { spec: { kind: 'vague', words: 'range' }, end: j + 3 }
    return undefined
  }
  if (unit === 'more') unit = norm(words, ++j)
  const days = /^days?$/.test(unit) ? 1 : /^weeks?$/.test(unit) ? 7 : unit === 'fortnight' ? 14 : undefined
  if (/^months?$/.test(unit) && led) return { spec: { kind: 'months', months: count }, end: j + 1 }
  if (days === undefined) return undefined
  const tail = norm(words, j + 1)
  if (tail === 'ago' || tail === 'back' || tail === 'old') return undefined
  if (tail === 'time' || tail === "'s" || tail === 'today' || tail === 'from') {
    let end = j + 2
    if (tail === "'s" && norm(words, end) === 'time') end++
    if (tail === 'from' && (norm(words, end) === 'today' || norm(words, end) === 'now')) end++
    return { spec: { kind: 'days', days: count * days }, end }
  }
  if (tail === 'tomorrow') return { spec: { kind: 'days', days: count * days + 1 }, end: j + 2 }
  return led ? { spec: { kind: 'days', days: count * days }, end: j + 1 } : undefined
}

function weekdayAt(words: readonly Word[], i: number): SpokenDate | undefined {
  let at = i
  let which: 'coming' | 'next' | 'week-after' | 'fortnight-after' | 'last' = 'coming'
  const lead = norm(words, at)
  if (lead === 'next' || lead === 'this' || lead === 'last' || lead === 'coming') {
    which = lead === 'next' ? 'next' : lead === 'last' ? 'last' : 'coming'
    at++
  }
  const name = norm(words, at).replace(/s$/, '')
  const weekday = WEEKDAYS.indexOf(name)
  if (weekday < 0) return undefined
  let end = at + 1
  if (norm(words, end) === 'week') {
    which = 'week-after'
    end++
  } else if (norm(words, end) === 'fortnight') {
    which = 'fortnight-after'
    end++
  } else if (norm(words, end) === 'coming') end++
  if (/^(morning|afternoon|evening|night)$/.test(norm(words, end))) end++
  // "saturday the twenty sixth", "saturday, february 7th", "sunday the 17th of may"
  let j = end
  if (norm(words, j) === 'the') j++
  const exact = words[j] && words[j]!.brk < Break.hard ? dateAt(words, end) : undefined
  if (exact && exact.spec.kind === 'day') return { spec: { ...exact.spec, weekday }, end: exact.end }
  if (/^\d{1,2}(st|nd|rd|th)$/.test(norm(words, end)))
    return { spec: { kind: 'day', day: Number.parseInt(norm(words, end), 10), weekday }, end: end + 1 }
  return { spec: { kind: 'weekday', weekday, which }, end }
}

const DAY = 86_400_000
const iso = (t: number): string => new Date(t).toISOString().slice(0, 10)

/**
 * The ISO date of a spoken date, counted from the note's own date (ISO); undefined when too vague. Days to come are
 * meant unless `past`. Weekdays: the next one after today; "next Saturday" said on a Saturday is a week on; said on
 * another day it is the coming one ("Saturday week" the one after).
 */
export function resolveDate(spec: DateSpec, today: string, past = false): string | undefined {
  const base = Date.parse(`${today}T00:00:00Z`)
  if (Number.isNaN(base)) return undefined
  const now = new Date(base)
  if (spec.kind === 'days') return iso(base + spec.days * DAY)
  if (spec.kind === 'months') {
    const d = new Date(base)
    d.setUTCMonth(d.getUTCMonth() + spec.months)
    return iso(d.getTime())
  }
  if (spec.kind === 'weekday') {
    let ahead = (spec.weekday - now.getUTCDay() + 7) % 7
    if (spec.which === 'last' || past) return iso(base - ((now.getUTCDay() - spec.weekday + 7) % 7 || 7) * DAY)
    if (ahead === 0) ahead = 7
    if (spec.which === 'week-after') ahead += 7
    if (spec.which === 'fortnight-after') ahead += 14
    return iso(base + ahead * DAY)
  }
  if (spec.kind === 'day') {
    let year = spec.year ?? now.getUTCFullYear()
    let m = spec.month ?? now.getUTCMonth() + 1
    const at = (): number => Date.UTC(year, m - 1, spec.day)
    if (spec.month === undefined) {
      if (!past && at() < base) m++
      if (past && at() > base) m--
    } else if (spec.year === undefined) {
      if (!past && at() < base - 200 * DAY) year++
      if (past && at() > base + 30 * DAY) year--
    }
    const t = at()
    return new Date(t).getUTCDate() === spec.day ? iso(t) : undefined
  }
  return undefined
}
