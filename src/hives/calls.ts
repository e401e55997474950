import type { Entry, EntryIndex, Grammar } from '../grammar/grammar.ts'
import type { Line } from '../grammar/line.ts'
import type { Amount } from '../language/amounts.ts'
import { plainNumberAt } from '../language/amounts.ts'
import { namedAt } from '../language/named.ts'
import { Break, isUnmarked, NO_CALL, type Utterance, type Word } from '../language/word.ts'
import { candidatesOf } from '../reading/candidates.ts'
import { lookupFor, type Names, type Term } from '../reading/lookup.ts'
import { describedAt } from './described.ts'
import { wholeSteps } from './whole-steps.ts'
import { classOf } from './word-classes.ts'

/** Words that may call a hive, whether or not they do: which of them do is for the whole note to say (`follow.ts`). */
export interface MaybeCall {
  /** Word indices in the utterance, `to` exclusive. */
  readonly from: number
  readonly to: number
  /** Offsets in the source. */
  readonly start: number
  readonly end: number
  /** What would be in hand then: labels, or a step from what is in hand. */
  readonly labels: readonly string[]
  readonly step: 'next' | 'other' | null
  /** `line`: a grammar line calls it; `maybe`: one does in some settings; `local`: one names it in passing; `bare`: a number; `name`: a word that may be a name; `spot`:
   * where it stands; `letter`; `phrase`: one or two words set apart at the start ("Red door."). */
  readonly kind: 'line' | 'maybe' | 'local' | 'bare' | 'name' | 'spot' | 'letter' | 'phrase'
  /** How it is called, in short: calls of one note are mostly alike. */
  readonly form: string
  /** The words stand where hives are called: first, behind the closing of another, behind "on to"; or a line says so. */
  readonly stands: boolean
  /** The words stand neither first nor behind the closing of a hive. */
  readonly inside: boolean
  /** The words tell which hive it was all along: "that was hive nine"; "this is hive nine" may begin another. */
  readonly which: boolean
  /** What the words and their neighbours tell. */
  readonly cues: readonly string[]
}

const indexes = new WeakMap<Grammar, Grammar>()

/** The grammar with only those phrases that name a hive. */
function hiveGrammar(grammar: Grammar): Grammar {
  let own = indexes.get(grammar)
  if (!own) {
    const names = (entry: Entry): boolean => entry.line.place?.hive !== undefined
    const { byWord, byClass } = grammar.phrases
    const phrases: EntryIndex = {
      byWord: new Map([...byWord].map(([k, v]) => [k, v.filter(names)] as const).filter(([, v]) => v.length > 0)),
      byClass: new Map([...byClass].map(([k, v]) => [k, v.filter(names)] as const).filter(([, v]) => v.length > 0)),
    }
    own = { ...grammar, phrases }
    indexes.set(grammar, own)
  }
  return own
}

/**
 * All that may call a hive in an utterance, in order of place. `names.hives` holds every word that might be a name; `described` are
 * words that the note calls hives by elsewhere.
 */
export function maybeCalls(
  utterance: Utterance,
  grammar: Grammar,
  names: Names,
  described: ReadonlySet<string>,
): MaybeCall[] {
  const { words } = utterance
  const own = hiveGrammar(grammar)
  const lookup = lookupFor(words, own, names)
  const found = new Map<
    string,
    {
      from: number
      to: number
      labels: string[]
      step: MaybeCall['step']
      lines: Set<string>
      local: boolean
      firm: boolean
    }
  >()
  const add = (from: number, to: number, labels: string[], step: MaybeCall['step'], line: Line): void => {
    const what = step ?? labels.join('+')
    const said = `line ${[line.say].flat()[0]!.slice(0, 48)}`
    const local = line.place!.local !== undefined
    const firm = line.when === undefined && !local
    // one core of words, one call: the longest phrase that names it
    for (const [key, other] of found) {
      if (!key.endsWith(`|${what}`) || other.to <= from || to <= other.from) continue
      other.from = Math.min(other.from, from)
      other.to = Math.max(other.to, to)
      other.lines.add(said)
      other.local &&= local
      other.firm ||= firm
      return
    }
    found.set(`${from}|${what}`, { from, to, labels, step, lines: new Set([said]), local, firm })
  }
  for (const here of candidatesOf(words, own, lookup)) {
    for (const { from, end, entry, match } of here) {
      const place = entry.line.place!
      const of = labelsOf(String(place.hive), match.captures, place.nuc !== undefined)
      if (!of || isOwner(words, end) || (/^\d/.test(of.labels[0] ?? '') && isCount(words, end - 1, end))) continue
      // "three or four": not both
      if (of.labels.length > 1 && place.local === undefined && words.slice(from, end).some(({ norm }) => norm === 'or'))
        continue
      const labels = place.prefix === undefined ? of.labels : of.labels.map((label) => `${place.prefix} ${label}`)
      add(from, end, labels, of.step, entry.line)
    }
  }
  const covered = (i: number): boolean => [...found.values()].some((c) => c.from <= i && i < c.to)
  /** "The pump house hive": a line knows the last word alone. */
  const isLonger = ({ from, to, label }: { from: number; to: number; label: string }): boolean =>
    [...found.values()].some((c) => c.from < to && from < c.to && label.endsWith(` ${c.labels[0]}`))
  const bare: { from: number; to: number; label: string; kind: MaybeCall['kind']; shape?: string }[] = []
  const led = words.findIndex((w) => !w.filler && !LEAD.test(w.norm) && w.norm !== 'the')
  for (let i = 0; i < words.length; i++) {
    const opens = led < 0 || i <= led || words[i]!.brk >= Break.inferred
    for (const one of describedAt(words, i, described, opens))
      if (!covered(one.from) || one.kind === 'letter' || one.shape === 'own' || one.shape === 'whole' || isLonger(one))
        bare.push(one)
    if (!covered(i))
      for (const { to, label } of namedAt(words, i))
        if (!bare.some((one) => one.from === i && one.label === label))
          bare.push({ from: i, to, label, kind: 'phrase', shape: `by its place ${to - i}` })
    const number = plainNumberAt(words, i)
    if (number && number.n > 0) {
      if (isAmount(words, i, number.end) || counts(words, number.end) || isRound(number.n)) continue
      if (!covered(i)) bare.push({ from: i, to: number.end, label: String(number.n), kind: 'bare' })
      if (names.known.has('nuc') && !words.slice(Math.max(0, i - 2), i).some((w) => /^nucs?$/.test(w.norm)))
        bare.push({ from: i, to: number.end, label: `nuc ${number.n}`, kind: 'bare' })
      continue
    }
    const name = isOwner(words, i + 1) ? undefined : lookup('hivename', i)[0]
    if (name && !covered(i)) bare.push({ from: i, to: name.end, label: name.value as string, kind: 'name' })
  }
  const unmarked = isUnmarked(words)
  const out: MaybeCall[] = []
  // "the first nuc" is nuc one, and no nuc without a number as well
  const isNumbered = ({ from, to, labels }: { from: number; to: number; labels: readonly string[] }): boolean =>
    labels[0] === 'nuc' &&
    [...found.values()].some((c) => c.from <= from && c.to >= to && /^nuc \d/.test(c.labels[0] ?? ''))
  for (const one of found.values()) {
    if (isNumbered(one)) continue
    const { from, to, labels, step, lines, local, firm } = one
    out.push(callOf(utterance, from, to, labels, step, local ? 'local' : firm ? 'line' : 'maybe', unmarked, [...lines]))
  }
  // one label, one call
  for (const { from, to, label, kind, shape } of bare)
    if (kind !== 'phrase' || !bare.some((b) => b.kind === 'name' && b.from === from && b.label === label))
      out.push(callOf(utterance, from, to, [label], null, kind, unmarked, shape ? [`shape ${shape}`] : []))
  return out.sort((a, b) => a.from - b.from || b.to - a.to)
}

/** How likely a hive is called at least: anywhere, and where a step or "hive three" first in its clause is said. */
const [SELDOM, PLAINLY] = [-6, 3]

/** How likely a hive is called by a name or number in these words, in whole steps; null where nothing tells yet. */
const likelyAt = (words: readonly Word[], from: number, to: number, least: number): number | null => {
  let most = NO_CALL
  for (let i = from; i < to; i++) most = Math.max(most, words[i]!.calls)
  return most === NO_CALL ? null : wholeSteps(most, least)
}

/** A number at the end of a line that is an amount, or counts what follows ("this one's two deeps"); what is called a hive is one. */
const isCount = (words: readonly Word[], from: number, to: number): boolean =>
  isAmount(words, from, to) ||
  (counts(words, to) && !/^(hive|colony|nuc|number|no|nr|stand|box)$/.test(words[from - 1]?.norm ?? ''))

/** "About sixty", "frame four", "six frames of", "four hive beetles", "twenty percent", "the last one": never a hive. */
const isAmount = (words: readonly Word[], from: number, to: number): boolean =>
  (/^(frame|comb|bar)$/.test(words[from - 1]?.norm ?? '') && words[from]!.brk < Break.soft) ||
  (/^(frames|seams|combs)$/.test(words[to]?.norm ?? '') &&
    words[to]!.brk < Break.inferred &&
    /^(of|brood|bees)$/.test(words[to + 1]?.norm ?? '')) ||
  (words[from]?.norm === 'one' &&
    words[from]!.brk < Break.soft &&
    /^(the|last|other|that|this|which|each|every|any|no)$/.test(words[from - 1]?.norm ?? '')) ||
  /^(about|around|roughly|nearly|almost|approximately|plus|another|only|maybe|per)$/.test(
    words[from - 1]?.norm ?? '',
  ) ||
  /^(percent|degrees|beetles|mites|kilos|pounds|litres|weeks|\d+\/\d+)$/.test(words[to]?.norm ?? '') ||
  (words[to]?.norm === 'and' &&
    words[to + 1]?.norm === 'a' &&
    /^(half|quarter|bit)$/.test(words[to + 2]?.norm ?? '')) ||
  (words[from]!.brk < Break.soft &&
    (/^(these|those)$/.test(words[from - 1]?.norm ?? '') ||
      (words[from - 1]?.norm === 'it' && /^(make|makes|made|call)$/.test(words[from - 2]?.norm ?? '')))) ||
  (/^(hive|queen)$/.test(words[to]?.norm ?? '') && /^(beetles?|cups?|cells?)$/.test(words[to + 1]?.norm ?? ''))

/** "Two deeps", "six cells", "three full frames": a number alone never calls a hive right before what is counted. */
const counts = (words: readonly Word[], to: number): boolean => {
  for (let i = to; i < to + 3; i++) {
    const word = words[i]
    if (!word || word.brk >= Break.inferred) return false
    if (THINGS.test(word.norm) || (i > to && word.norm === 'frames')) return true
    if (!COUNTED_AS.test(word.norm)) return false
  }
  return false
}
const COUNTED_AS =
  /^(full|good|empty|whole|solid|big|large|small|half|drawn|old|new|more|capped|sealed|open|charged|dry|nice|swarm|queen|play|drone|supersedure|emergency)$/
const THINGS =
  /^(deeps|mediums|shallows|supers|boxes|cups|cells|seams|combs|bars|grubs|moths|mummies|drones|stings|strips|days|months|years|hours|minutes|nucs|hives|colonies|queens|pints|jars|buckets|fingers|grams|ml|people|times)$/

/** "Three hundred": so many bees are washed, so many mites counted; hives' tags are no round numbers. */
const isRound = (n: number): boolean => n >= 100 && n % 100 === 0

/** "The nuc, Olive's nuc", "hive two's old queen": the name only tells whose. */
const isOwner = (words: readonly Word[], end: number): boolean =>
  words[end]?.norm === "'s" &&
  (/^(nuc|split|swarm|cast)$/.test(words[end + 1]?.norm ?? '') ||
    (words[end + 1]?.norm === 'old' && /^(queen|brood|box|super|frames?)$/.test(words[end + 2]?.norm ?? '')))

function labelsOf(
  value: string,
  captures: Readonly<Record<string, { value: unknown }>>,
  nuc: boolean,
): { labels: string[]; step: MaybeCall['step'] } | null {
  if (value === 'next' || value === 'other') return { labels: [], step: value }
  if (value === 'all' || value === 'both' || value === 'current') return null
  if (value === '$hivelist' || value === '$hiveno')
    return { labels: [...(captures[value.slice(1)]!.value as string[])], step: null }
  if (!value.startsWith('$')) return { labels: [value], step: null }
  const hit = captures[value.slice(1)]?.value
  if (hit === undefined) return null
  if (typeof hit === 'string') return { labels: [hit], step: null }
  if ('lo' in (hit as object)) {
    const amount = hit as Amount
    const again = captures.again?.value as Amount | undefined
    if (!Number.isInteger(amount.lo) || amount.lo < 0 || amount.percent || (again && again.lo !== amount.lo))
      return null
    const labels: string[] = []
    for (let n = amount.lo; n <= amount.hi && labels.length < 60; n++) labels.push(nuc ? `nuc ${n}` : String(n))
    return { labels, step: null }
  }
  return { labels: [(hit as Term).value], step: null }
}

const LEAD = /^(and|then|now|right|okay|ok|so|next|well|alright|lastly|finally|first|oh|also|but|um|uh|er|yeah|yep)$/
const CLOSED =
  /(^| )((clos(e|ed|ing)|shut|button|buttoned|seal|sealed|put|got) (it|that|this|them|her|him)( one)?( back)?( up)?|lids?( is| 's)?( back)? on|all (closed|shut|done|good)|(that one|that|this one)( is| 's)? (done|it|finished|all)|back together|moving( right)?( on| along)?|move( right)?( on| along)|next( one| hive| up)?|on( we go)? to|over to|done|finished|closed( up)?)( (the|hive|number|okay|right|and|so|then|now))*$/
const COUNTED =
  /^(percent|of|frames?|combs?|seams?|boxes|box|supers?|mites?|beetles?|cells?|cups?|degrees|days?|weeks?|kilos?|pounds?|litres?|strips?|bees|brood|sides?|dead|mummies|out|or|to|per|hundred|point|a|good|big|more|o'clock|years?|months?|inches|jars|feet|metres)$/
const TRADE =
  /^(brood|eggs|larvae|seams|frames|frame|queen|beetles|mites|cells|supers|super|light|strong|weak|bees|boxes|spotty|calm|stores|single|double|hot|swarm|queenless|heavy|fondant|syrup|laying|capped|honey)$/

function callOf(
  { words, paragraph }: Utterance,
  from: number,
  to: number,
  labels: readonly string[],
  step: MaybeCall['step'],
  kind: MaybeCall['kind'],
  unmarked: boolean,
  cues: string[],
): MaybeCall {
  const norm = (i: number): string => words[i]?.norm ?? (i < 0 ? '<' : '>')
  let before = from - 1
  while (before >= 0 && words[before]!.filler) before--
  let after = to
  while (after < words.length && words[after]!.filler) after++
  const led = words.slice(0, from).every((w) => w.filler || LEAD.test(w.norm))
  const brkBefore = from === 0 ? Break.hard : words[from]!.brk
  const brkAfter = words[to]?.brk ?? Break.hard
  cues.push(
    `b1 ${norm(before)}`,
    `b2 ${norm(before - 1)} ${norm(before)}`,
    `a1 ${norm(after)}`,
    `a2 ${norm(after)} ${norm(after + 1)}`,
    `brk ${brkBefore}${brkAfter}`,
    `brk ${unmarked ? 'u' : ''}${brkBefore}`,
    `ends ${unmarked ? 'u' : ''}${brkAfter}`,
    `bc ${classOf(norm(before - 1))} ${classOf(norm(before))}`,
    `ac ${classOf(norm(after))} ${classOf(norm(after + 1))}`,
    `bac ${classOf(norm(before))} ${classOf(norm(after))}`,
    `bc1 ${classOf(norm(before))}`,
    `ac1 ${classOf(norm(after))}`,
  )
  if (led) cues.push('led', from === 0 ? 'first' : 'led by', `led ${brkAfter}`)
  if (led && to === words.length) cues.push('alone', words[words.length - 1]!.mark === '?' ? 'asked' : 'told')
  if (paragraph && led) cues.push('paragraph')
  if (unmarked) cues.push('unmarked', words.length > 25 ? 'unmarked long' : 'unmarked short')
  if (COUNTED.test(norm(after))) cues.push('counts')
  const soon = words.slice(to, to + 6)
  if (soon.some((w) => TRADE.test(w.norm))) cues.push('trade soon')
  if (soon.slice(0, 2).some((w) => TRADE.test(w.norm))) cues.push('trade next')
  if (soon.some((w) => /^(he|his|him)$/.test(w.norm))) cues.push('he soon')
  if (
    /^(my|our|your|his|her)$/.test(norm(before)) ||
    /^(brother|sister|wife|husband|son|daughter|mate|friend|neighbour|neighbor|cousin|uncle|aunt|auntie|dad|mum|mom|lad|boss|mr|mrs)$/.test(
      norm(before),
    )
  )
    cues.push('kin before')
  if (/(ing|ed)$/.test(words[from]!.norm)) cues.push('ing')
  const behind = words.slice(Math.max(0, from - 7), from).map((w) => w.norm)
  const closed = CLOSED.test(behind.join(' '))
  if (closed) cues.push('closed')
  if (norm(before) === norm(from)) cues.push('twice')
  const number = /^(?:nuc )?(\d+)$/.exec(labels[0] ?? '')
  if (number) {
    const n = Number(number[1])
    cues.push(n === 1 ? 'one' : n <= 12 ? 'small' : n < 20 ? 'teen' : 'big')
    if (/^nuc/.test(labels[0]!)) cues.push('nuc')
  }
  if (labels.length > 1) cues.push('group')
  // "hive three" first in its clause
  const isPlain =
    kind === 'line' && (led || brkBefore >= Break.soft) && /^(hive|colony|nuc)$/.test(words[from]!.norm) && number
  if (isPlain) cues.push('plain')
  // what the words say plainly is not doubted; a step has no name that the net would look for
  const likely = likelyAt(words, from, to, step || isPlain ? PLAINLY : SELDOM)
  if (likely !== null) cues.push(`heard ${likely}`, `heard ${kind} ${likely}`)
  const about = words.slice(Math.max(0, from - 2), to).map((w) => w.norm)
  if (step) cues.push(`step ${step}`)
  return {
    from,
    to,
    start: words[from]!.start,
    end: words[to - 1]!.end,
    labels,
    step,
    kind,
    form: `${kind} ${/^(line|shape)/.test(cues[0] ?? '') ? cues[0] : `${led} ${classOf(norm(before))}`}`,
    stands:
      led || closed || kind === 'line' || brkBefore >= Break.soft || /^(to|onto|now|then|next)$/.test(norm(before)),
    inside: !led && !closed,
    which: kind === 'line' && /(^| )(that (was|is|'s)|(this|it) was) /.test(about.join(' ')),
    cues,
  }
}
