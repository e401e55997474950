import { readAmount } from './amounts.ts'
import { Break, type Word } from './word.ts'

/** Words that a calling number never follows: they make it an amount, a name or part of a set phrase. */
const BEFORE =
  /^(on|of|to|for|at|than|about|maybe|by|in|from|with|number|hive|hives|colony|nuc|the|a|an|is|are|'s|was|were|only|just|call|or|and|another|these|those|all|every|under|over|like|between|had|have|has|got|what|no|not|sorry|wait|say|make|makes|that|until|till|around|roughly|another|any|other|last|first|some|good|more|she|they|i|we|see|saw|seen|find|found|count|counted|gave|give|put|add|added|plus|times|top|bottom|box|super|ideal|into|off|out|nearly|almost|which|one|thing|each|both|side|up|through|per)$/
/** Words that make the number before them an amount. */
const COUNTED =
  /^(percent|per|of|out|or|to|more|big|large|small|little|good|nice|lots|sides|faces|ones|mites?|beetles?|frames?|combs?|bars?|seams?|cells?|cups?|degrees|days?|weeks?|hours?|minutes?|months?|years?|kilos?|pounds?|litres?|liters?|quarts?|gallons?|jars?|buckets?|strips?|mummies|dead|supers?|ideals?|boxes|box|deeps?|mediums?|hives?|colonies|nucs?|queens?|stings?|traps?|full|whole|inches|feet|times|hundred|thousand|thirds?|quarters?|other|different|virgins?|spaces|point|at|thick|o'clock|am|pm|for|on)$/
/** What is said of a comb right behind its number. */
const OF_COMB =
  /^('s|is|capped|sealed|empty|drawn|undrawn|foundation|same|this|nectar|pollen|stores|honey|larvae|half|nothing|not)$/

/** What "the second …" may be of beside a frame. */
const NOT_RANKED =
  /^(hive|colony|nuc|week|time|box|super|deep|brood|day|visit|year|half|of|to|in|on|for|and|or|side|face|queen|lot|cell|batch|round|row|stand|ideal)$/

const FRAME = /^(frames?|combs?|bars?|tray)$/
/** "… just bare comb two …": the comb belongs to what stands before. */
const KIND_OF_COMB =
  /^(bare|empty|drawn|old|black|new|dark|wild|cross|burr|drone|white|brace|top|bottom|side|fresh|clean|dry|more|of)$/
const SUPER = /^(super|ideal)$/

/** How far apart two calls of a walk may be, in words. */
const REACH = 90

/**
 * In text without punctuation: cuts before the numbers that call frame after frame ("frame one foundation two is half
 * drawn three honey"). The walk must have been opened by a frame's number; each call is one more than the last, or
 * two more where what follows is said of a comb.
 */
export function cutAtCalls(words: readonly Word[]): void {
  if (!unmarked(words)) return
  cutAtHives(words)
  let last = 0
  let lastAt = -REACH
  let lastEnd = 0
  let superAt = -REACH
  for (let i = 0; i < words.length; i++) {
    const word = words[i]!
    if (/^(hive|colony|nuc)$/.test(word.norm)) last = 0
    cutAtHive(words, i)
    if (SUPER.test(word.norm)) superAt = i
    const opened =
      (FRAME.test(words[i - 1]?.norm ?? '') && !KIND_OF_COMB.test(words[i - 2]?.norm ?? '')) ||
      (SUPER.test(words[i - 1]?.norm ?? '') && word.norm !== '')
    const amount = /^\p{L}|^\d/u.test(word.norm) ? readAmount(words, i) : undefined
    if (
      !amount ||
      amount.percent ||
      amount.homophone ||
      amount.unit ||
      (amount.kind !== 'integer' && amount.kind !== 'ordinal')
    )
      continue
    const ordinal = amount.kind === 'ordinal'
    if (opened && !ordinal && amount.hi <= 14 && (FRAME.test(words[i - 1]!.norm) || amount.lo === 1)) {
      if (i > 1 && words[i - 1]!.brk < Break.hard && FRAME.test(words[i - 1]!.norm) && !BEFORE.test(words[i - 2]!.norm))
        words[i - 1]!.brk = Break.hard
      last = amount.hi
      lastAt = i
      lastEnd = amount.end
      i = amount.end - 1
      continue
    }
    if (ordinal && FRAME.test(words[amount.end]?.norm ?? '') && amount.lo === 1) {
      last = 1
      lastAt = i
      lastEnd = amount.end + 1
      continue
    }
    const next = words[amount.end]?.norm ?? ''
    // "middle super … one to four all capped"
    if (
      amount.lo === 1 &&
      i - superAt <= 12 &&
      amount.hi <= 12 &&
      (amount.hi > 1 ? /^(all|are|capped|sealed|full|empty|drawn)$/.test(next) : OF_COMB.test(next)) &&
      callsAfter(words, i, next)
    ) {
      words[i]!.brk = Break.hard
      last = amount.hi
      lastAt = i
      lastEnd = amount.end
      i = amount.end - 1
      continue
    }
    if (last === 0 || i - lastAt > REACH) continue
    const more = amount.lo - last
    // "six seven and eight": one call
    const joined = i === lastEnd || (i === lastEnd + 1 && words[lastEnd]!.norm === 'and')
    const fits = more === 1 || (more === 2 && OF_COMB.test(next))
    if (!fits || amount.hi > 14 || (COUNTED.test(next) && !ordinal)) continue
    if (!joined && !ordinal && !callsAfter(words, i, next)) continue
    const ranked = words[i - 1]?.norm === 'the' && !NOT_RANKED.test(next) && !BEFORE.test(words[i - 2]?.norm ?? '')
    if (ordinal && !ranked && !/^(one|frame|comb|'s|is)$/.test(next) && !OF_COMB.test(next)) continue
    if (!joined) words[ordinal && words[i - 1]?.norm === 'the' ? i - 1 : i]!.brk = Break.hard
    last = amount.hi
    lastAt = i
    lastEnd = amount.end
    i = amount.end - 1
  }
}

/** Words before "hive three" that make it a place in a sentence rather than the start of one. */
const INSIDE =
  /^(on|of|to|from|in|for|than|as|with|and|or|off|out|into|the|a|like|both|at|was|is|'s|are|by|back|over|not|this|that|call|called|did|do|check|checked|fed|gave|treated|split|number|hive|unite|united|requeen|mark|under|onto|between|only|just|about|see|next|behind|near|against|except|but|until|till|before|after|which|if|when|because|since|put|took|move|moved|open|opened|doing|done|frames?|combs?|bars?|super|box|tray|a|good|large)$/

/** "… fine hive three …", "… the ground gate hive first …": a hive called in the middle of a run of words. */
function cutAtHive(words: readonly Word[], i: number): void {
  const word = words[i]!
  const next = words[i + 1]
  if (i < 2 || !next || !/^(hive|colony|nuc|number)$/.test(word.norm)) return
  const amount = readAmount(words, i + 1)
  const numbered = amount?.kind === 'integer'
  const counts = numbered && /^(frames|seams)$/.test(words[amount.end]?.norm ?? '')
  if (numbered && !counts && !INSIDE.test(words[i - 1]!.norm)) word.brk = Break.hard
  if (
    word.norm !== 'hive' ||
    !/^(first|next)$/.test(next.norm) ||
    /^(the|this|that|next|first|last|each|every|per)$/.test(words[i - 1]!.norm)
  )
    return
  words[words[i - 2]!.norm === 'the' ? i - 2 : i - 1]!.brk = Break.hard
}

/** What opens a hive right behind its number. */
const OF_HIVE =
  /^(single|double|same|light|this|quiet|queenless|weak|strong|boomer|dead|hot|drone|heavy|calm|lid|okay|right|hmm?|oo?h|here|now|well|lovely|busy|no|not|still|has|had|nuc|robbed|swarm|saw|fine|needs|looks)$/

/**
 * The same for hives that were announced ("eight hives", "a row, 61 to 75"): cuts around the numbers that call one after
 * the other. Small numbers call a hive only where what follows opens one.
 */
function cutAtHives(words: readonly Word[]): void {
  const round = announced(words) ?? countedThrough(words)
  if (!round) return
  let [next, last] = round.hives
  for (let i = round.end; i < words.length; i++) {
    const amount = readAmount(words, i)
    if (amount?.kind !== 'integer' || amount.percent || amount.homophone) continue
    const after = words[amount.end]?.norm ?? ''
    const fits = amount.lo === next && (amount.hi === amount.lo || amount.loose) && next <= last
    if (
      fits &&
      ((opensHive(words, amount.end) && callsHive(words, i)) ||
        (next >= 20 && !COUNTED.test(after) && !BEFORE.test(words[i - 1]!.norm)))
    ) {
      words[i]!.brk = Break.hard
      const behind = words[amount.end]
      if (behind && behind.brk < Break.soft) behind.brk = Break.hard
      next++
    }
    i = amount.end - 1
  }
}

/** Whether these words may open a hive: one of a few words, or a count. */
function opensHive(words: readonly Word[], at: number): boolean {
  const count = readAmount(words, at)
  return (
    OF_HIVE.test(words[at]?.norm ?? '') ||
    (count !== undefined &&
      count.kind === 'integer' &&
      /^(frames|seams|boxes|supers)$/.test(words[count.end]?.norm ?? ''))
  )
}

/** Like a frame, but "gallon on", "reducer in" may come before. */
const callsHive = (words: readonly Word[], i: number): boolean =>
  i === 0 || /^(on|in|up|off|out|down|it|them)$/.test(words[i - 1]!.norm) || callsAfter(words, i, '')

/** A round that nobody announced: one, two, three … in order, each opening a hive, where nothing else is called by number. */
function countedThrough(words: readonly Word[]): { hives: [number, number]; end: number } | undefined {
  let next = 1
  let start = 0
  for (let i = 0; i < words.length; i++) {
    if (/^(hive|colony|number|frame|comb|bar)$/.test(words[i]!.norm) && readAmount(words, i + 1)?.kind === 'integer')
      return undefined
    const amount = readAmount(words, i)
    if (amount?.kind !== 'integer' || amount.percent || amount.homophone) continue
    if (amount.lo === next && amount.hi === next && opensHive(words, amount.end) && callsHive(words, i)) {
      if (next === 1) start = i
      next++
    }
    i = amount.end - 1
  }
  return next > 4 ? { hives: [1, next - 1], end: start } : undefined
}

/** The hives of a round, where the first words say them. */
function announced(words: readonly Word[]): { hives: [number, number]; end: number } | undefined {
  for (let i = 0; i < Math.min(words.length, 60); i++) {
    const amount = readAmount(words, i)
    if (amount?.kind !== 'integer' || amount.percent) continue
    if (
      amount.lo >= 20 &&
      amount.hi > amount.lo &&
      amount.hi - amount.lo <= 60 &&
      !/^(degrees|percent)$/.test(words[amount.end]?.norm ?? '')
    )
      return { hives: [amount.lo, amount.hi], end: amount.end }
    if (amount.lo >= 3 && amount.lo <= 60 && /^(hives|colonies|nucs)$/.test(words[amount.end]?.norm ?? ''))
      return { hives: [1, amount.lo], end: amount.end + 1 }
    i = amount.end - 1
  }
  return undefined
}

/** Whether a number behind these words can call a frame. */
function callsAfter(words: readonly Word[], i: number, next: string): boolean {
  const before = words[i - 1]?.norm ?? ''
  const second = words[i - 2]?.norm ?? ''
  if (/^(it|that|them|those|this)$/.test(before))
    return (
      OF_COMB.test(next) ||
      /^(take|leave|took|left|taking|leaving|flip|turn|have|of|both|keep|in|on|with|left|back|for|cap|capping)$/.test(
        second,
      )
    )
  // "… on the other six nothing", "… this side seven"
  if (before === 'side' || before === 'one' || before === 'out' || before === 'up' || before === 'off')
    return !/^(in|from|to)$/.test(second)
  if (before === 'in' && /^(back|it|that)$/.test(second)) return true
  return !BEFORE.test(before)
}

/** Hardly a comma or full stop in it. */
export function unmarked(words: readonly Word[]): boolean {
  let marks = 0
  for (const word of words) if (word.mark !== '') marks++
  return marks * 40 < words.length
}
