import type { ClassLookup, Found } from '../grammar/match.ts'
import { type Amount, readAmount } from './amounts.ts'
import { combsMeantAt } from './combs-meant.ts'
import { type FrameRow, frameRowAt } from './frame-rows.ts'
import { Break, type Word } from './word.ts'

const FRAME = new Set(['frame', 'frames', 'comb', 'combs', 'tray', 'trays', 'plates', 'bar', 'bars'])
const FRAME_WORDS_BETWEEN = new Set([
  'full',
  'good',
  'solid',
  'whole',
  'deep',
  'more',
  'or',
  'so',
  'nice',
  'big',
  'big',
  'odd',
  'lovely',
  'decent',
  'proper',
  'of',
  'them',
  'entire',
  'complete',
])
const BIT = /^(bit|touch|little|smidge)$/
const NONE: readonly Found[] = []

/**
 * The built-in classes of patterns: what needs arithmetic rather than a word list.
 * `n` any amount · `int` a whole number · `ord` an ordinal · `frac` a fraction or percent · `pct` an amount with "percent" ·
 * `nf` an amount of frames ("six frames", "half a frame", "a frame and a half", "a frame") ·
 * `row` several frames by their numbers ("one to five", "two, three and six") · `sum` what two numbers make ("ten and five, fifteen") · `tally` the last of what is counted aloud ("one, two, three") ·
 * `combs` combs pointed at ("that one", "both of them", "the first three", "two and six") ·
 * `sample` so many bees as are taken for a test · `decade` "seventies" · `ints` three or more whole numbers in a row: how many they are
 */
export function classesOf(words: readonly Word[]): ClassLookup {
  const amounts = new Map<number, Amount | null>()
  const amountAt = (i: number): Amount | undefined => {
    let hit = amounts.get(i)
    if (hit === undefined) {
      hit = readAmount(words, i) ?? null
      amounts.set(i, hit)
    }
    return hit ?? undefined
  }
  return (name, at) => {
    if (at >= words.length) return NONE
    switch (name) {
      case 'n': {
        const amount = amountAt(at)
        return amount && amount.kind !== 'ordinal' && !amount.unit ? [found(words, at, amount)] : NONE
      }
      case 'int': {
        const amount = amountAt(at)
        if (amount?.kind !== 'integer' || amount.percent) return NONE
        // two neighbours in a row are no range where one number is meant ("hive three, four frames …")
        return [found(words, at, amount.loose ? firstOf(words, at, amount) : amount)]
      }
      case 'sample': {
        const amount = amountAt(at)
        // "out of three hundred one": what comes behind the hundreds is no part of it
        if (amount?.kind === 'integer' && amount.lo % 100 > 0 && amount.lo < 700 && words[at + 1]?.norm === 'hundred')
          return [listed(at + 2, amount.lo - (amount.lo % 100))]
        const isSample = amount?.kind === 'integer' && amount.lo >= 100 && amount.lo <= 600 && amount.lo % 50 === 0
        return isSample && !amount.percent ? [found(words, at, amount)] : NONE
      }
      case 'decade': {
        const lo = DECADES[words[at]!.norm]
        return lo === undefined ? NONE : [listed(at + 1, lo)]
      }
      case 'ints':
        return countedAt(words, at, amountAt)
      case 'ord': {
        const amount = amountAt(at)
        return amount && amount.kind === 'ordinal' ? [found(words, at, amount)] : NONE
      }
      case 'pct': {
        const amount = amountAt(at)
        return amount?.percent ? [found(words, at, amount)] : NONE
      }
      case 'frac': {
        const amount = amountAt(at)
        return amount && !amount.unit && (amount.percent || (amount.kind === 'fraction' && amount.hi < 1))
          ? [found(words, at, amount)]
          : NONE
      }
      case 'row': {
        const row = frameRowAt(words, at)
        return row ? [{ end: row.end, value: row.frames, cost: 0 }] : NONE
      }
      case 'combs':
        return combsMeantAt(words, at).map((one) => ({ ...one, cost: 0 }))
      case 'sum':
        return sumAt(words, at, amountAt)
      case 'tally': {
        const row = frameRowAt(words, at)
        return row ? tallied(at, row) : NONE
      }
      case 'nf':
        return framesAt(words, at, amountAt)
      default:
        return NONE
    }
  }
}

const DECADES: Readonly<Record<string, number>> = {
  teens: 10,
  twenties: 20,
  thirties: 30,
  fifties: 50,
  sixties: 60,
  seventies: 70,
  eighties: 80,
  nineties: 90,
  '50s': 50,
  '60s': 60,
  '70s': 70,
  '80s': 80,
  '90s': 90,
}

/** "Three, four, five and six": how many whole numbers stand in a row, three or more. */
function countedAt(words: readonly Word[], at: number, amountAt: (i: number) => Amount | undefined): readonly Found[] {
  let i = at
  let count = 0
  for (;;) {
    const amount = amountAt(i)
    if (amount?.kind !== 'integer' || amount.percent || amount.unit) break
    // "two, three and four, three frames": the last one sums them up
    if (FRAME.has(words[amount.end]?.norm ?? '')) return count < 3 ? NONE : [listed(i, count)]
    count += amount.loose && amount.hi > amount.lo ? 2 : 1
    const end = amount.end
    const next = words[end]
    const joined = next && next.brk < Break.hard && (next.norm === 'and' ? end + 1 : next.brk === Break.soft ? end : 0)
    if (joined && amountAt(joined)?.kind === 'integer') i = joined
    else if (count < 3) break
    else return [listed(end, count)]
  }
  return NONE
}

/** "Two and six is eight", "ten and five, fifteen". */
function sumAt(words: readonly Word[], at: number, amountAt: (i: number) => Amount | undefined): readonly Found[] {
  const a = amountAt(at)
  const b = a && /^(and|plus)$/.test(words[a.end]?.norm ?? '') ? amountAt(a.end + 1) : undefined
  if (!a || !b) return NONE
  let i = b.end
  while (/^(is|'s|are|that|makes|make|so|it)$/.test(words[i]?.norm ?? '')) i++
  const n = amountAt(i)
  return n?.lo === a.lo + b.lo && [a, b, n].every((x) => x.kind === 'integer' && !x.percent)
    ? [listed(n.end, n.lo)]
    : NONE
}

const listed = (end: number, count: number): Found<Amount> => ({
  end,
  value: { lo: count, hi: count, end, kind: 'integer', percent: false },
  cost: 0,
})

/** The first number of a loose range. */
function firstOf(words: readonly Word[], at: number, amount: Amount): Amount {
  let end = at + 1
  while (end < amount.end && words[end]!.brk < Break.soft) end++
  const { loose: _loose, ...rest } = amount
  return { ...rest, hi: amount.lo, end }
}

/** What is counted aloud from one on: as many as the last number says. */
function tallied(at: number, { frames, end }: FrameRow): readonly Found[] {
  const last = frames.length
  if (frames[0] !== 1 || last < 3 || frames[last - 1] !== last || end - at < last) return NONE
  return [listed(end, last)]
}

function found(words: readonly Word[], at: number, amount: Amount): Found<Amount> {
  let cost = amount.homophone ? 0.4 : 0
  for (let i = at; i < amount.end; i++) cost += words[i]!.cost
  return { end: amount.end, value: amount, cost }
}

function framesAt(words: readonly Word[], at: number, amountAt: (i: number) => Amount | undefined): readonly Found[] {
  // "frame five, full frame of brood": the number is the frame's own
  const own =
    /^(frame|bar)$/.test(words[at - 1]?.norm ?? '') && !/^(the|a|this|that|on|of)$/.test(words[at - 2]?.norm ?? '')
  if (own && words[at]!.brk < 2 && words[at]!.norm !== 'a') return NONE
  const amount = amountAt(at)
  if (amount?.unit === 'frames') return [found(words, at, amount)]
  if (amount && amount.kind !== 'ordinal' && !amount.percent) {
    let j = amount.end
    // "two and a bit frames", "four plus frames"
    if (/^(and|plus)$/.test(words[j]?.norm ?? '') && words[j + 1]?.norm === 'a' && BIT.test(words[j + 2]?.norm ?? ''))
      j += 3
    else if (words[j]?.norm === 'plus') j++
    while (j < words.length && j < amount.end + 3 && FRAME_WORDS_BETWEEN.has(words[j]!.norm)) j++
    while (j < words.length && words[j]!.filler) j++
    if (words[j] && FRAME.has(words[j]!.norm) && words[j]!.brk < 2) return [{ ...found(words, at, amount), end: j + 1 }]
    return NONE
  }
  // "a frame", "one more good frame", "another frame"
  const first = words[at]!.norm
  if (first === 'a' || first === 'another' || first === 'an') {
    let j = at + 1
    while (j < words.length && j < at + 3 && FRAME_WORDS_BETWEEN.has(words[j]!.norm)) j++
    if (
      words[j]?.norm === 'frame' ||
      words[j]?.norm === 'comb' ||
      (words[j]?.norm === 'bar' && words[j + 1]?.norm === 'of')
    )
      return [
        {
          end: j + 1,
          value: { lo: 1, hi: 1, end: j + 1, kind: 'integer', percent: false, unit: 'frames' } satisfies Amount,
          cost: 0,
        },
      ]
  }
  return NONE
}
