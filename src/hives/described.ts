import { isNumberWord, ordinalOf, plainNumberAt } from '../language/amounts.ts'
import { namedAt } from '../language/named.ts'
import { Break, type Word } from '../language/word.ts'
import { pointedAt } from './names.ts'
import { OWN, PAINT, SPELLED, SPOT } from './sorts.ts'

/** Words that may call a hive though no grammar line does, and the label they would give it. */
export interface Described {
  readonly from: number
  readonly to: number
  readonly label: string
  readonly kind: 'bare' | 'spot' | 'letter' | 'phrase'
  /** In which way it would be called so. */
  readonly shape: string
}

const KIN =
  /^(dad|daddy|mum|mam|mom|mummy|mammy|gran|granny|grandad|grandpa|grandma|nan|nana|pop|uncle|auntie|brother|sister|neighbour|neighbor|teacher|church|club|school|boss|vicar|father|mother|son|daughter|wife|husband|landlord|farmer)$/
const MADE =
  /^(nuc|swarm|split|cast|breeder|starter|finisher|bait|skep|parent|package|overwintered|survivor|survivors|baby|donor)$/
const THING = /^(one|hive|colony|lot|box|nuc|stack|stand|swarm|split|ones)$/
const DET = /^(the|that|this|my|our|your|her|his)$/
const BESIDE = /^(by|under|near|beside|behind|against|nearest|closest|outside|next)$/
const STANDS_AT = /^(at|on|in|to)$/
const NO_NAME = new Set(
  "the a an this that these those it he she they we you i is are was were be been has had have not no yes yeah yep nope none nothing something everything anything and or but so then now right okay ok well on in at of off to up down out for with from by over under my our your her his their there here what who how why when where which good nice lovely great fine done same all some any more just also very too lid smoke next last first second third fourth fifth sixth other another one two both half full empty go come look see put take hang hold wait sorry thanks please 's 'll 're 've 'm 'd do did does can will might maybe about only still again way bit lot few many much today tomorrow yesterday mind let's let us me if as like than because cos while got get gets take took gave give need needs want wants said says think reckon know see saw hive hives colony colonies number box boxes weather sun wind rain time day week month year morning afternoon evening hour minutes them him what's that's it's there's count counted total pretty really quite little bees bee whole open opened check checked nearly almost already plenty lots couple couldn't didn't don't can't won't isn't wasn't haven't doing going coming looking looks feels around round back forward each every most main entire everybody everyone somebody someone anybody anyone nobody folks".split(
    ' ',
  ),
)
const TRADE =
  /^(brood|eggs?|larvae|larva|seams?|frames?|queens?|beetles?|mites?|cells?|cups?|supers?|light|strong|weak|bees|boxes|spotty|calm|stores|single|double|hot|queenless|heavy|fondant|syrup|laying|capped|sealed|honey|combs?|bars?|percent|pollen|nectar|varroa|drones?|stores|temper|floor|roof|lid|crown|board|excluder|feeder|feed|sugar|pattern|entrance|foundation|strips?|traps?|moths?|super|deeps?|mediums?|litres?|kilos?|pounds?|pints?|grams?|degrees|weeks?|days?|side|sides|face|wall|top|bottom|middle|rest|lots?|slab|patch|chalkbrood|swarm|cluster|treatment|oxalic|acid|thymol|wash|board|guard|sheet|tray)$/

const named = new Map<string, boolean>()

/** A word that may stand for a hive by itself. */
function mayName({ norm, filler }: Word): boolean {
  if (filler) return false
  let may = named.get(norm)
  if (may === undefined) {
    may = isNameLike(norm)
    // a bound, so that a program which runs for days does not grow
    if (named.size > 20_000) named.clear()
    named.set(norm, may)
  }
  return may
}

const isNameLike = (norm: string): boolean =>
  !isNumberWord(norm) &&
  ordinalOf(norm) === undefined &&
  /^\p{L}[\p{L}-]{2,}$/u.test(norm) &&
  !NO_NAME.has(norm) &&
  !TRADE.test(norm) &&
  !/(ly|n't)$/.test(norm)

/** The last ordinal that calls a hive by its place in a row. */
const LAST_ORDER = 12

/** "The top box", "lower deep": one of the boxes of the hive in hand. */
const isOfStack = (which: Word, thing: Word): boolean =>
  /^(top|bottom|upper|lower|middle)$/.test(which.norm) && /^(box|boxes|deep|super|brood)$/.test(thing.norm)

const joined = (word: Word | undefined): word is Word => word !== undefined && word.brk < Break.soft

/** What may call a hive at one word. `known` are labels that the note gives elsewhere. */
export function describedAt(
  words: readonly Word[],
  i: number,
  known: ReadonlySet<string>,
  opens: boolean,
): Described[] {
  const out: Described[] = []
  const word = words[i]!
  const { norm } = word
  const next = joined(words[i + 1]) ? words[i + 1]! : undefined
  const before = i > 0 && word.brk < Break.soft ? words[i - 1]!.norm : ''
  const push = (from: number, to: number, label: string, kind: Described['kind'], shape: string): void => {
    out.push({ from, to, label, kind, shape })
  }
  // "back left", "front one", "north"
  if (SPOT.test(norm)) {
    const second = words[i + 1]
    if (second && second.brk < Break.hard && SPOT.test(second.norm) && (next || second.norm === 'right'))
      push(i, i + 2, `${norm} ${second.norm}`, 'spot', 'two spots')
    else if (!SPOT.test(before) && !(next && isOfStack(word, next))) push(i, i + 1, norm, 'spot', 'spot')
  } else if (PAINT.test(norm) && !isMark(words, i)) {
    if (next && next.norm === 'and' && PAINT.test(words[i + 2]?.norm ?? ''))
      push(i, i + 3, `${norm} and ${words[i + 2]!.norm}`, 'spot', 'paint')
    push(i, i + 1, norm, 'spot', 'paint')
  } else if (/^\d{4}$/.test(norm)) push(i, i + 1, norm, 'bare', 'four digits')
  else if (/^([a-z]{1,3}\d{1,3}[a-z]?|\d{1,3}[a-h])$/.test(norm) && !/^\d+(st|nd|rd|th|g|c|k|l|m|f)$/.test(norm))
    push(i, i + 1, norm, 'letter', 'code')
  coded(words, i, push)
  // "Third is the swarm", "the second has none"
  const order = ordinalOf(norm) ?? 0
  if (
    order > 1 &&
    order <= LAST_ORDER &&
    (opens || before === 'the') &&
    !/^(frame|comb|side|box|super|one|time|of|look|week|day)$/.test(next?.norm ?? '')
  )
    push(i, i + 1, String(order), 'bare', 'ordinal')
  // "Upper 2", "KT 4": the note puts numbers behind this word
  if (known.has(`${norm} #`) && !SPELLED.test(norm)) {
    const number = next ? plainNumberAt(words, i + 1) : undefined
    if (number && number.n > 0 && number.n < 100)
      push(i, number.end, norm.length < 4 ? `${norm}${number.n}` : `${norm} ${number.n}`, 'letter', 'numbered')
  }
  // "mine", "dad's"
  if (OWN.test(norm)) push(i, i + 1, norm, 'phrase', 'own')
  else if (next?.norm === "'s" && KIN.test(norm)) push(i, i + 2, `${norm}'s`, 'phrase', 'own')
  else if (word.said.endsWith("'") && /^\p{L}{3,}s'$/u.test(word.said.toLowerCase()))
    push(
      before === 'the' ? i - 1 : i,
      i + 1,
      `${before === 'the' ? 'the ' : ''}${word.said.toLowerCase()}`,
      'phrase',
      'own',
    )
  else if (/^(last|this)$/.test(norm) && next?.norm === 'year' && words[i + 2]?.norm === "'s" && words[i + 3])
    push(i, i + 4, `${norm} year's ${words[i + 3]!.norm}`, 'phrase', 'of a year')
  if (MADE.test(norm) && !(norm === 'nuc' && next !== undefined && plainNumberAt(words, i + 1))) {
    if (before === 'the' || before === 'that' || (norm !== 'split' && (opens || known.has(norm))))
      push(i, i + 1, norm, 'phrase', 'made')
    if (next && before === 'the') {
      const two = `${norm} ${next.norm}`
      if (mayName(next) && MADE.test(next.norm)) push(i, i + 2, two, 'phrase', 'made')
    }
  }
  if (norm === 'catch' && next?.norm === 'box') push(i, i + 2, 'catch box', 'phrase', 'made')
  if (norm === 'top' && next?.norm === 'bar') push(i, i + 2, 'top bar', 'phrase', 'made')
  for (let k = 1; k <= 2; k++) {
    const thing = words[i + k]
    if (!joined(thing) || !THING.test(thing.norm) || isOfStack(words[i + k - 1]!, thing)) continue
    if (!DET.test(before) && !opens && !/^(hive|colony)$/.test(thing.norm)) continue
    const parts = words.slice(i, i + k)
    if (!parts.every((w, at) => (at === 0 || w.brk < Break.soft) && adjective(w))) continue
    const label = parts.map((w) => w.norm).join(' ')
    push(i, i + k + 1, label, 'phrase', k === 1 ? 'the … one' : 'the … … one')
    // "the long hive" goes by both words as well
    if (thing.norm !== 'one' && thing.norm !== 'ones' && thing.norm !== 'colony' && k === 1)
      push(i, i + 2, `${label} ${thing.norm}`, 'phrase', 'whole')
  }
  // "by the pond", "the one on the end", "near the turf shed"
  const earlier = words[i - 2]?.norm ?? ''
  if (
    (DET.test(before) || before === 'a') &&
    i >= 2 &&
    (BESIDE.test(earlier) || (earlier === 'to' && words[i - 3]?.norm === 'next') || besideThing(words, i - 2))
  ) {
    if (adjective(word)) push(i, i + 1, norm, 'phrase', 'beside')
    if (next && adjective(word) && mayName(next)) push(i, i + 2, `${norm} ${next.norm}`, 'phrase', 'beside two')
  }
  // what is a hive's name elsewhere in the note may be one here
  for (let k = 1, label = norm; known.size > 0 && k <= 3; k++) {
    const more = words[i + k - 1]
    if (k > 1 && !joined(more)) break
    if (k > 1) label += ` ${more!.norm}`
    if (known.has(label) && !out.some((d) => d.label === label)) push(i, i + k, label, 'phrase', 'known')
  }
  // "Red door.", "Kettle now"
  // "okay Tuesday we call it that", "Hope first": where nothing is marked, words like these open as well
  const turned = /^(okay|ok|right|next|now|then|alright)$/.test(words[i - 1]?.norm ?? '')
  if (mayName(word) && (opens || turned || (/^(first|next|now)$/.test(next?.norm ?? '') && word.brk < Break.soft))) {
    const after = words[i + 1]
    if (turned && !opens) push(i, i + 1, norm, 'phrase', 'behind a turn')
    else if (after === undefined || after.brk >= Break.soft || FOLLOWS.test(after.norm))
      push(i, i + 1, norm, 'phrase', 'alone')
    const third = words[i + 2]
    if (next && mayName(next) && (third === undefined || third.brk >= Break.soft || FOLLOWS.test(third.norm)))
      push(i, i + 2, `${norm} ${next.norm}`, 'phrase', 'two alone')
  }
  loosely(words, i, opens, push, out)
  return out
}

/** Names in the run of talk: "start with Tuesday", "we're at the barn", and first of all right before talk of a hive: "Top terrace three supers". */
function loosely(
  words: readonly Word[],
  i: number,
  opens: boolean,
  push: (from: number, to: number, label: string, kind: Described['kind'], shape: string) => void,
  out: readonly Described[],
): void {
  // "split this one", "gave it to the nuc"
  if (MADE.test(words[i]!.norm)) return
  const isPointed = pointedAt(words, i) || (DET.test(words[i - 1]?.norm ?? '') && pointedAt(words, i - 1))
  for (let k = 1; k <= 2; k++) {
    const parts = words.slice(i, i + k)
    if (parts.length < k || !parts.slice(1).every(joined)) return
    if (!parts.every((word, at) => (at === k - 1 ? mayName(word) : adjective(word)))) continue
    const after = words[i + k]
    const isBeforeTalk = opens && after !== undefined && after.brk < Break.soft && OPENS_TALK.test(after.norm)
    const shape = isPointed ? 'pointed' : isBeforeTalk ? 'before talk' : ''
    const label = parts.map(({ norm }) => norm).join(' ')
    if (shape && !out.some((d) => d.label === label && d.from === i))
      push(i, i + k, label, 'phrase', k === 1 ? shape : `two ${shape}`)
  }
}

/** With what talk of a hive begins. */
const OPENS_TALK =
  /^(\d+|one|two|three|four|five|six|seven|eight|nine|ten|single|double|first|is|has|had|got|'s|hive|colony|brood|bees|queen|super|supers|top|deep|lid|eggs|strong|weak|heavy|light|calm|no|this|these|they|she|1st|one's)$/

/** The paint of a queen's mark, or of pollen: "she is marked yellow", "a blue dot", "orange pollen". */
const isMark = (words: readonly Word[], i: number): boolean =>
  /^(mark|marked|marking|painted|dotted|coloured|colored|a|bright|dark|pale|light)$/.test(words[i - 1]?.norm ?? '') ||
  /^(dot|dots|mark|marked|queen|paint|spot|blob|pen|pollen)$/.test(words[i + 1]?.norm ?? '') ||
  /^(queen|queens|she)$/.test(words[i - 2]?.norm ?? '')

const FOLLOWS = /^(now|next|then|first|again|is|'s|has|had|got|was)$/
const adjective = (word: Word): boolean =>
  SPOT.test(word.norm) ||
  PAINT.test(word.norm) ||
  mayName(word) ||
  /^(new|old|long|short|tall|big|wee|wild|nasty|poly|hot|strong|weak|heavy|light|top|little|small)$/.test(word.norm)

/** "the one on", "that hive in": a place follows that tells which. */
const besideThing = (words: readonly Word[], i: number): boolean =>
  STANDS_AT.test(words[i]!.norm) && THING.test(words[i - 1]?.norm ?? '')

/** "A one", "22 b", "alpha 1", "KT 4", "one forty two", "nuc a". */
function coded(
  words: readonly Word[],
  i: number,
  push: (from: number, to: number, label: string, kind: Described['kind'], shape: string) => void,
): void {
  const { norm, said } = words[i]!
  const next = joined(words[i + 1]) ? words[i + 1]! : undefined
  const number = next ? plainNumberAt(words, i + 1) : undefined
  if (SPELLED.test(norm)) {
    if (number && number.n > 0) push(i, number.end, `${norm} ${number.n}`, 'letter', 'spelled')
    else push(i, i + 1, norm, 'letter', 'spelled')
  } else if (/^[a-z]$/.test(norm) && norm !== 'i' && norm !== 's' && norm !== 't') {
    if (number && number.n > 0 && number.n < 100) push(i, number.end, `${norm}${number.n}`, 'letter', 'code')
    if (norm !== 'a' || (/^[A-Z]$/.test(said) && !isArticle(next)) || words[i - 1]?.norm === 'nuc') {
      if (words[i - 1]?.norm === 'nuc') push(i - 1, i + 1, `nuc ${norm}`, 'letter', 'letter')
      else push(i, i + 1, norm, 'letter', 'letter')
    }
  } else if (/^[a-z]{2}$/.test(norm) && number && /^[A-Z]{2}$/.test(said))
    push(i, number.end, `${norm}${number.n}`, 'letter', 'code')
  const own = plainNumberAt(words, i)
  if (own && joined(words[own.end]) && /^[a-h]$/.test(words[own.end]!.norm) && words[own.end]!.norm !== 'a')
    push(i, own.end + 1, `${own.n}${words[own.end]!.norm}`, 'letter', 'code')
  // "one forty two"
  if (own && own.n < 10 && own.end === i + 1 && joined(words[own.end])) {
    const rest = plainNumberAt(words, own.end)
    if (rest && rest.n >= 10 && rest.n < 100) push(i, rest.end, `${own.n}${rest.n}`, 'bare', 'hundreds')
    if (/^(oh|o|zero)$/.test(words[own.end]!.norm)) {
      const last = joined(words[own.end + 1]) ? plainNumberAt(words, own.end + 1) : undefined
      if (last && last.n < 10) push(i, last.end, `${own.n}0${last.n}`, 'bare', 'hundreds')
    }
  }
}

/** "A solid eight frames": what follows does not speak of a hive A. */
const isArticle = (next: Word | undefined): boolean =>
  next !== undefined && !/^(is|'s|has|had|got|looks|was|needs|wants|first|next|now|then|again|and|no)$/.test(next.norm)

/** From these log odds on words that name a hive once may name it wherever they stand. */
const SURE = 0

/** Words that a note may call hives by: told from how they are said once, they may be meant wherever they stand. */
export function namesIn(words: readonly Word[]): string[] {
  const out: string[] = []
  words.forEach((word, i) => {
    const next = words[i + 1]
    const before = i > 0 ? words[i - 1]!.norm : ''
    if (word.calls > SURE) out.push(...namedAt(words, i).map(({ label }) => label))
    if (
      joined(next) &&
      (SPOT.test(word.norm) || mayName(word) || /^[a-hj-z]{1,2}$/.test(word.norm)) &&
      !/^(o|oh|um|uh|er|mm|hm|s|t)$/.test(word.norm) &&
      !NO_NAME.has(word.norm) &&
      plainNumberAt(words, i + 1) &&
      (words[i + 2] === undefined || !/^(percent|frames?|of)$/.test(words[i + 2]!.norm))
    )
      out.push(`?${word.norm} #`)
    for (const { label, shape } of describedAt(words, i, new Set(), false))
      if (/^(the … one|the … … one|beside|beside two|own|whole)$/.test(shape)) out.push(label)
    if (!mayName(word) || (word.brk >= Break.hard && i > 0)) return
    if (
      (next !== undefined &&
        /^(first|next|now|then|again|is|'s|has|had|got|was)$/.test(next.norm) &&
        next.brk < Break.hard) ||
      (/^(to|onto|with|is|'s|then)$/.test(before) &&
        word.brk < Break.soft &&
        (next === undefined || next.brk >= Break.soft))
    )
      out.push(`?${word.norm}`)
  })
  return out
}
