import type { Entry, EntryIndex, Grammar } from '../grammar/grammar.ts'
import type { Line } from '../grammar/line.ts'
import type { Amount } from '../language/amounts.ts'
import { plainNumberAt } from '../language/amounts.ts'
import { Break, isUnmarked, type Utterance, type Word } from '../language/word.ts'
import { candidatesOf } from '../reading/find.ts'
import { lookupFor, type Names, type Term } from '../reading/lookup.ts'

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
  /** The words stand neither first nor behind the closing of a hive. */
  readonly inside: boolean
  /** What the words and their neighbours tell. */
  readonly cues: readonly string[]
}

const indexes = new WeakMap<Grammar, Grammar>()

/** The grammar with only those phrases that name a hive. */
function hiveGrammar(grammar: Grammar): Grammar {
  let own = indexes.get(grammar)
  if (!own) {
    const names = (entry: Entry): boolean => entry.line.place?.hive !== undefined
    const { byWord, byClass, byNeed } = grammar.phrases
    const phrases: EntryIndex = {
      byWord: new Map([...byWord].map(([k, v]) => [k, v.filter(names)] as const).filter(([, v]) => v.length > 0)),
      byClass: new Map([...byClass].map(([k, v]) => [k, v.filter(names)] as const).filter(([, v]) => v.length > 0)),
      byNeed: new Map(
        [...byNeed]
          .map(([k, v]) => [k, v.filter(({ entry }) => names(entry))] as const)
          .filter(([, v]) => v.length > 0),
      ),
    }
    own = { ...grammar, phrases }
    indexes.set(grammar, own)
  }
  return own
}

/** All that may call a hive in an utterance, in order of place. `names.hives` holds every word that might be a name. */
export function maybeCalls(utterance: Utterance, grammar: Grammar, names: Names): MaybeCall[] {
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
      if (!of || isOwner(words, end)) continue
      const labels = place.prefix === undefined ? of.labels : of.labels.map((label) => `${place.prefix} ${label}`)
      add(from, end, labels, of.step, entry.line)
    }
  }
  const covered = (i: number): boolean => [...found.values()].some((c) => c.from <= i && i < c.to)
  const bare: { from: number; to: number; labels: string[]; kind: MaybeCall['kind'] }[] = []
  const single = (from: number, to: number, label: string, kind: MaybeCall['kind']): void => {
    if (!covered(from)) bare.push({ from, to, labels: [label], kind })
  }
  for (let i = 0; i < words.length; i++) {
    const number = plainNumberAt(words, i)
    if (number && number.n > 0) {
      single(i, number.end, String(number.n), 'bare')
      if (names.known.has('nuc') && !words.slice(Math.max(0, i - 2), i).some((w) => /^nucs?$/.test(w.norm)))
        bare.push({ from: i, to: number.end, labels: [`nuc ${number.n}`], kind: 'bare' })
      continue
    }
    for (const name of isOwner(words, i + 1) ? [] : lookup('hivename', i).slice(0, 1))
      single(i, name.end, name.value as string, 'name')
    spotted(words, i, single)
  }
  const unmarked = isUnmarked(words)
  const out: MaybeCall[] = []
  for (const { from, to, labels, step, lines, local, firm } of found.values())
    out.push(
      callOf(words, from, to, labels, step, local ? 'local' : firm ? 'line' : 'maybe', unmarked, utterance.paragraph, [
        ...lines,
      ]),
    )
  for (const { from, to, labels, kind } of bare)
    out.push(callOf(words, from, to, labels, null, kind, unmarked, utterance.paragraph, []))
  return out.sort((a, b) => a.from - b.from || b.to - a.to)
}

/** "The nuc, Olive's nuc": the name only tells whose. */
const isOwner = (words: readonly Word[], end: number): boolean =>
  words[end]?.norm === "'s" && /^(nuc|split|swarm|cast)$/.test(words[end + 1]?.norm ?? '')

const SPOT = /^(front|back|rear|left|right|middle|centre|center|end|near|far|top|bottom|inner|outer|corner)$/
const NO_NAME =
  /^(the|an?|this|that|these|those|it|he|she|they|we|you|i|is|are|was|were|has|had|have|not|no|yes|yeah|yep|nope|none|nothing|and|or|but|so|then|now|right|okay|ok|well|on|in|at|of|off|to|up|down|out|for|with|from|by|over|under|my|our|your|there|here|what|who|how|why|when|where|which|good|nice|lovely|great|fine|done|same|all|some|any|more|just|also|very|too|lid|smoke|next|last|first|other|another|one|two|both|half|full|empty|go|come|look|see|put|take|hang|hold|wait|sorry|thanks|please|'s|'ll|'re|'ve|'m|do|did|does|can|will|might|maybe|about|only|still|again|way|bit|lot|few|many|much|few|today|tomorrow|yesterday|mind|let's|let|us|me)$/

/** Hives that go by where they stand ("back left"), by a letter, or by one or two words set apart at a start ("Red door."). */
function spotted(
  words: readonly Word[],
  i: number,
  found: (from: number, to: number, label: string, kind: MaybeCall['kind']) => void,
): void {
  const word = words[i]!
  const next = words[i + 1]
  const joined = next !== undefined && next.brk < Break.soft
  if (SPOT.test(word.norm)) {
    if (joined && SPOT.test(next.norm)) found(i, i + 2, `${word.norm} ${next.norm}`, 'spot')
    else if (i === 0 || !SPOT.test(words[i - 1]!.norm)) found(i, i + 1, word.norm, 'spot')
    return
  }
  const ends = (to: number): boolean => words[to] === undefined || words[to]!.brk >= Break.soft
  if (/^[a-hj-z]$/.test(word.norm)) {
    if (/^[A-Z]$/.test(word.said) || word.norm !== 'a') {
      if (words[i - 1]?.norm === 'nuc') found(i - 1, i + 1, `nuc ${word.norm}`, 'letter')
      else found(i, i + 1, word.norm, 'letter')
    }
    return
  }
  if (!words.slice(0, i).every((w) => w.filler || LEAD.test(w.norm) || w.norm === 'the')) return
  const may = (w: Word): boolean =>
    /^\p{L}{3,}$/u.test(w.norm) && !w.filler && !NO_NAME.test(w.norm) && !TRADE.test(w.norm)
  if (!may(word)) return
  if (ends(i + 1)) found(i, i + 1, word.norm, 'phrase')
  else if (joined && may(next) && ends(i + 2)) found(i, i + 2, `${word.norm} ${next.norm}`, 'phrase')
}

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
  words: readonly Word[],
  from: number,
  to: number,
  labels: readonly string[],
  step: MaybeCall['step'],
  kind: MaybeCall['kind'],
  unmarked: boolean,
  paragraph: boolean,
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
  )
  if (led) cues.push('led', from === 0 ? 'first' : 'led by', `led ${brkAfter}`)
  if (led && to === words.length) cues.push('alone', words[words.length - 1]!.mark === '?' ? 'asked' : 'told')
  if (paragraph && led) cues.push('paragraph')
  if (unmarked) cues.push('unmarked', words.length > 25 ? 'unmarked long' : 'unmarked short')
  if (COUNTED.test(norm(after))) cues.push('counts')
  const soon = words.slice(to, to + 6)
  if (soon.some((w) => TRADE.test(w.norm))) cues.push('trade soon')
  if (soon.slice(0, 2).some((w) => TRADE.test(w.norm))) cues.push('trade next')
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
  if (step) cues.push(`step ${step}`)
  return {
    from,
    to,
    start: words[from]!.start,
    end: words[to - 1]!.end,
    labels,
    step,
    kind,
    inside: !led && !closed,
    cues,
  }
}
