import { plainNumberAt } from '../language/amounts.ts'
import { Break, isUnmarked, type Utterance, type Word } from '../language/word.ts'

/** Words of everyday English, and of the grammar: none of them is taken for a name on slight evidence. */
export interface Vocabulary {
  readonly common: ReadonlySet<string>
  readonly trade: ReadonlySet<string>
}

/**
 * What a note says about which words are names of hives. Evidence adds up over the whole note ("the shed hive", "Pelican
 * first", "on to Cedar", "Cedar has six frames"), against it counts what only people do ("Dewey says").
 */
export interface NameEvidence {
  readonly scores: Map<string, { score: number; times: number; best: number; worst: number; first: number }>
  /** How often an odd word was said at all. */
  readonly seen: Map<string, number>
  /** Numbers that stand where a hive may be called, in order: value and utterance. */
  readonly called: { n: number; turn: number; start: number; weight: number }[]
  /** A word said alone just now, and when: a name if what follows opens a hive. */
  alone: { word: string; turn: number } | null
  /** "The second one is strong": hives called in order. */
  orderCalls: number
  /** Frames called with the word, and when: "frame two". */
  readonly frameCalls: { n: number; turn: number }[]
  /** Signs that frames are gone through one by one ("next one", "other side"). */
  framesWalked: number
  /** Their numbers, in order. */
  readonly hiveNumbers: number[]
  /** Words with a punctuation mark. */
  marks: number
  turns: number
}

export const newEvidence = (): NameEvidence => ({
  scores: new Map(),
  seen: new Map(),
  called: [],
  alone: null,
  orderCalls: 0,
  frameCalls: [],
  framesWalked: 0,
  hiveNumbers: [],
  marks: 0,
  turns: 0,
})

/** Evidence as it is now, that hearing more does not change. */
export const copyEvidence = (evidence: NameEvidence): NameEvidence => ({
  ...evidence,
  scores: new Map(evidence.scores),
  seen: new Map(evidence.seen),
  called: [...evidence.called],
  frameCalls: [...evidence.frameCalls],
  hiveNumbers: [...evidence.hiveNumbers],
})

/** From here up a word is taken for a hive's name; where it would be the only one, the evidence must be stronger. */
const ENOUGH = 2
const ENOUGH_ALONE = 2.2
/** Enough where other names are sure: the hives of a note go by one kind of name. */
const AMONG = 1.5
/** Enough for a word that is said again and again. */
const ALMOST = 1.2

const set = (words: string): ReadonlySet<string> => new Set(words.split(' '))

/** Words that stand before "hive" without being its name. */
const NOT_NAMES = set(
  'listen look watch see wait come hear mind remember imagine the a an this that my your our their his her each every any all some no one other another next last first second third whole same new old empty single double bee bees honey brood main strong weak small big little poor good best worst bad hot strongest weakest biggest dead mean nice per which what number of in on to from at for with and or but so is was are were nuc top bottom bait quiet poly long bar two three four five six seven eight nine ten both few many more most out off back front mating busy mother parent original donor host end left right robbed sick light heavy not very really into onto under over than then just like only still now here there well langstroth national open check checking opened close beetle beetles it them him these those i we you he she they spare healthy happy crowded packed full hand side fourth fifth sixth seventh eighth ninth tenth eleventh twelfth eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen twenty thirty forty fifty sixty seventy eighty ninety hundred thousand dozen frame frames box super supers far near problem nasty grumpy angry evil horrible cross feral vicious aggressive defensive calm gentle lovely monster poorly slow latest previous current average typical normal decent proper real usual particular entire damn bloody blasted flaming wretched poor rotten awful terrible dreadful difficult awkward tricky naughty moody stroppy fierce savage wicked hungry thirsty wet dry warm cold nearest furthest closest lone single solitary one-only other-one wild domestic neighbouring neighboring adjacent pallet pallets stands trailer truck everybody everyone somebody someone anybody anyone nobody folks',
)
const FUNCTION = set(
  'a an the on in at and or but so then now right okay ok well yes no to from for of with by as if when while this that these those it he she they we you i is are was were not one two three four five six seven eight nine ten first second third last next frame hive number queen everybody everyone somebody someone anybody anyone nobody folks',
)
const CALENDAR = set(
  'monday tuesday wednesday thursday friday saturday sunday january february march april may june july august september october november december christmas easter',
)
const LEAD = set('and then now right okay ok so next well alright lastly finally first oh righto also')
const STRONG_TRADE = set(
  'brood eggs larvae seams frames frame queen beetles mites cells supers super light strong weak bees boxes spotty calm stores single double hot swarm queenless heavy fondant syrup',
)
const PREDICATE = set("has had is was 's got looks seems gets needs are have wants took")
const PERSONAL =
  /^(says?|said|reckons?|thinks?|told|tells|asked|asks|came|comes|brought|laughed|shouted|you|can|could|hold|holds|held|went|keeps|always|wants|'ll|will|knows|likes|took|mentioned|rang|phoned|lent|gave)$/
/** Words that hold the next one as part of their phrase. */
const CLINGS = set(
  "the a an like as some no more or what old did do does before my our your his her their this these those is 's are was were has had have i you he she it they we very so too by under not mr mrs uncle auntie ask asked tell told thanks cheers sorry",
)
const PLACING = set('in on off from to for at into of through checking check did opened opening')
/** What is said of a frame, not of a hive. */
const COMB = set('honey stores pollen nectar foundation drawn empty capped sealed side sides')
/** Words with which the look at a hive begins. */
const OPENS_HIVE = set('this single double seams supers super lid roof only crown deep')
const IN_BLOOM = set(
  'out over finished done gone coming flower flowering bloom blooming yielding starting started budding flow',
)
/** What is said to somebody right behind his name. */
const SPOKEN_TO =
  /^(what|how|where|can|could|do|did|does|you|your|hold|look|come|pass|give|get|mind|stand|watch|write|count|tell|let's|put|take|bring|see|say|who|thanks|please)$/
/** Exclamations and openers that print seldom shows. */
const SPOKEN = set(
  'okay yep yeah nope nah aye ach righto anyway hmm gorgeous beauty cheers blimey crikey squish scoot shoo ditto likewise seriously sorry popping bugger blast poke stir squash crikey strewth sheesh phew yikes oops gotcha bingo touchwood ooh aah whoops careful gently',
)

const capital = (word: Word): boolean => /^\p{Lu}\p{Ll}+$/u.test(word.said)
const nameLike = (word: Word): boolean =>
  /^\p{L}{3,}$/u.test(word.norm) && !NOT_NAMES.has(word.norm) && !LEAD.has(word.norm) && !word.filler && word.cost === 0

/** Adds what one utterance tells. The cost is that of the utterance. */
export function gatherNames(evidence: NameEvidence, utterance: Utterance, vocabulary: Vocabulary): void {
  const { words } = utterance
  evidence.turns++
  const cased = words.some((w) => /^\p{Lu}/u.test(w.said)) && words.some((w) => /^\p{Ll}/u.test(w.said))
  const marks = words.filter((w) => w.mark !== '').length
  evidence.marks += marks
  // a few words without a mark tell nothing, unless the note has none at all
  const unmarked = (words.length > 6 || evidence.marks === 0) && isUnmarked(words)
  if (
    evidence.alone &&
    evidence.turns - evidence.alone.turn <= 2 &&
    (words.slice(0, 8).some((w) => OPENS_HIVE.has(w.norm)) || words.slice(0, 4).some((w) => STRONG_TRADE.has(w.norm)))
  ) {
    add(evidence, evidence.alone.word, 1)
    evidence.alone = null
  }
  words.forEach((word, i) => {
    const next = words[i + 1]?.norm ?? ''
    if (
      (/^(first|second|third|fourth|next|outside|end|middle|outer)$/.test(word.norm) &&
        /^(frame|comb|one)$/.test(next)) ||
      (/^(other|this)$/.test(word.norm) && /^(side|face)$/.test(next)) ||
      word.norm === 'flip'
    )
      evidence.framesWalked++
    if (
      /^(first|second|third|fourth|last)$/.test(word.norm) &&
      /^(one|hive)$/.test(next) &&
      words.slice(i + 2, i + 7).some((w) => STRONG_TRADE.has(w.norm)) &&
      !words.slice(i + 2, i + 5).some((w) => COMB.has(w.norm))
    )
      evidence.orderCalls++
    else if (standsInOrder(words, i, evidence.frameCalls.length > 0)) evidence.orderCalls++
  })
  const trade = words.some((w) => STRONG_TRADE.has(w.norm))
  words.forEach((word, i) => {
    gatherNumber(evidence, words, i, unmarked)
    if (!nameLike(word)) return
    const isTrade = vocabulary.trade.has(word.norm)
    const rare =
      !CALENDAR.has(word.norm) &&
      !(isPlural(word.norm) && !capital(word)) &&
      !vocabulary.common.has(word.norm) &&
      !vocabulary.trade.has(word.norm) &&
      !SPOKEN.has(word.norm)
    const inside = i > 0 && word.brk < Break.hard
    const proper =
      capital(word) &&
      !CALENDAR.has(word.norm) &&
      !SPOKEN.has(word.norm) &&
      (inside ? cased || words.length <= 3 : !vocabulary.common.has(word.norm))
    const score = scoreOf(words, i, {
      rare,
      proper: proper && (!isTrade || inside),
      inside,
      unmarked,
      trade,
      isTrade,
      paragraph: utterance.paragraph,
    })
    if (rare || (proper && inside)) evidence.seen.set(word.norm, (evidence.seen.get(word.norm) ?? 0) + 1)
    if (score !== 0) add(evidence, word.norm, score, words[i + 1]?.norm === 'first')
    // "Shady's behind." with a colony's state in the next sentence
    const described = i === 0 && rare && words.length <= 6 && /^('s|is)$/.test(words[1]?.norm ?? '')
    if ((i === words.length - 1 && i <= 3 && score > 0 && word.mark === '.') || described)
      evidence.alone = { word: word.norm, turn: evidence.turns }
  })
  gatherPairs(evidence, words, { unmarked, trade })
}

/** "The third is empty"; "the first one under the wattle", "the second one is by the wall". */
function standsInOrder(words: readonly Word[], i: number, framesCalled: boolean): boolean {
  const ordinal = words[i]!.norm
  const next = words[i + 1]?.norm ?? ''
  if (!/^(first|second|third|fourth|fifth)$/.test(ordinal)) return false
  if (/^(is|'s|has)$/.test(next)) return ordinal !== 'first' && words[i - 1]?.norm === 'the' && !framesCalled
  if (!/^(one|hive|colony)$/.test(next)) return false
  if (!words.slice(i + 2, i + 4).some((w) => BESIDE.test(w.norm))) return false
  // among frames, what stands by the wall or near the entrance is a comb
  return !framesCalled || !words.slice(i + 2, i + 6).some((w) => PART_OF_HIVE.test(w.norm))
}

const BESIDE = /^(under|by|near|beside|behind|against|nearest|closest)$/
const PART_OF_HIVE = /^(wall|lid|entrance|excluder)$/

function add(evidence: NameEvidence, name: string, score: number, isFirst = false): void {
  const known = evidence.scores.get(name) ?? { score: 0, times: 0, best: 0, worst: 0, first: 0 }
  evidence.scores.set(name, {
    score: known.score + score,
    times: known.times + 1,
    best: Math.max(known.best, score),
    worst: Math.min(known.worst, score),
    first: known.first + (isFirst ? score : 0),
  })
}

/** Names of two words ("Aunt Bea", "Big Red"): both with capitals where none is due. */
function gatherPairs(
  evidence: NameEvidence,
  words: readonly Word[],
  look: { unmarked: boolean; trade: boolean },
): void {
  for (let i = 0; i + 1 < words.length; i++) {
    const [a, b] = [words[i]!, words[i + 1]!]
    if (
      !capital(a) ||
      !capital(b) ||
      b.brk >= Break.inferred ||
      CALENDAR.has(a.norm) ||
      CALENDAR.has(b.norm) ||
      b.norm === 'hive' ||
      FUNCTION.has(a.norm) ||
      (i === 0 && /(ing|ed)$/.test(a.norm)) ||
      !nameLike(b) ||
      LEAD.has(a.norm) ||
      /^(speaker|the|this|hive|number|frame|queen|no|mr|mrs|new)$/.test(a.norm)
    )
      continue
    const merged: Word = { ...a, end: b.end, said: 'Name', norm: `${a.norm} ${b.norm}` }
    const list = [...words.slice(0, i), merged, ...words.slice(i + 2)]
    const score = scoreOf(list, i, { rare: false, proper: true, inside: i > 0, isTrade: false, ...look })
    if (score > 0) add(evidence, merged.norm, score + (list.length === 1 ? 1 : 0))
  }
}

const NAMES_IN_S = set('mars charles james thomas frances agnes moses lucas nicholas silas hades hercules demeter')

/** "Boxes", "mummies", "specs"; but "Doris", "Iris", "Venus". */
const isPlural = (norm: string): boolean => /[^iu]s$/.test(norm) && !NAMES_IN_S.has(norm)

interface Look {
  readonly rare: boolean
  readonly proper: boolean
  readonly inside: boolean
  readonly unmarked: boolean
  readonly trade: boolean
  readonly isTrade: boolean
  /** The utterance opens a paragraph. */
  readonly paragraph?: boolean
}

/** "… eggs hive clover" has no hive called Eggs. */
const SEEN_IN_HIVE = /^(eggs?|larvae|brood|bees|frames?|stores|mites|beetles|cells?|cups?|drones?|pollen|nectar)$/

function scoreOf(words: readonly Word[], i: number, look: Look): number {
  const before = words[i - 1]?.norm ?? ''
  const next = words[i + 1]
  const odd = look.rare || look.proper
  const opens =
    i === 0 ||
    words[i]!.brk >= Break.inferred ||
    LEAD.has(before) ||
    (look.unmarked && !CLINGS.has(before) && !PLACING.has(before))
  const ends = next === undefined || next.brk >= Break.inferred
  let score = 0
  const led = words.slice(0, i).every((w) => w.filler || LEAD.has(w.norm))
  // "Hive Olive.", "on to hive Clover"
  if (/^(hive|colony)$/.test(before) && words[i]!.brk < Break.soft && !look.isTrade && odd) {
    if (look.proper) score += 3
    else if (look.unmarked || i === 1 || /^(is|to|at|on|and|then|now|next|in)$/.test(words[i - 2]?.norm ?? ''))
      score += 1.2
  }
  // written notes give each hive its paragraph: "Atlantic. Eleven seams in June …"
  if (
    look.paragraph &&
    led &&
    ends &&
    !look.isTrade &&
    words[i]!.mark !== '?' &&
    words[i]!.mark !== '!' &&
    !/(ing|ed|ly)$/.test(words[i]!.norm)
  )
    score += next === undefined ? 1 : 0.8
  if (
    next &&
    /^(hive|colony)$/.test(next.norm) &&
    next.brk < Break.soft &&
    (before === 'the' || !/^\d|^(one|two|three|four|five|six|number)$/.test(words[i + 2]?.norm ?? ''))
  ) {
    if (before === 'the') score += 3
    else if (!SEEN_IN_HIVE.test(words[i]!.norm) && !/(ing|ed|ly)$/.test(words[i]!.norm) && (opens || look.proper))
      score += odd ? 3 : 2.2
  }
  if (
    opens &&
    next &&
    /^(that|which|this)$/.test(next.norm) &&
    words
      .slice(i + 2, i + 9)
      .some(
        (w, k) =>
          /^(hive|colony|nuc)$/.test(w.norm) &&
          words.slice(i + 2, i + 3 + k).some((v) => v.norm === 'the' || v.norm === 'a'),
      )
  )
    score += odd ? 2.5 : 1
  // "the ironbark box"
  if (before === 'the' && look.rare && next?.norm === 'box' && next.brk < Break.soft) score += 2.2
  if (
    next?.norm === "'s" &&
    /^(hive|colony)$/.test(words[i + 2]?.norm ?? '') &&
    !/^(my|his|her|their|our|neighbour|neighbor|mate|friend|somebody|someone|nobody|everybody|uncle|club)$/.test(
      words[i]!.norm,
    )
  )
    score += 3
  if (next && odd && /^(you|says|said|reckons)$/.test(next.norm)) return -2
  // "bramble's out", "clover is finished": a plant
  if (next && PREDICATE.has(next.norm) && words.slice(i + 2, i + 5).some((w) => IN_BLOOM.has(w.norm))) return -1
  if (!odd && !(next?.norm === 'first' && opens && !look.isTrade && !CALENDAR.has(words[i]!.norm))) return score
  if (next && next.brk < Break.soft && PERSONAL.test(next.norm) && before !== 'the') score -= 2
  if (
    /^(ask|asked|tell|told|thanks|cheers|mr|mrs|uncle|auntie|with|me|and)$/.test(before) &&
    ends &&
    before !== 'and' &&
    before !== 'with'
  )
    score -= 1
  // "Ellie, what do you see?", "How many, Tom?" speak to a person
  const asked = words[words.length - 1]!.mark === '?'
  if (
    asked &&
    ((i === 0 && next !== undefined && next.brk >= Break.soft) ||
      (next === undefined && words[i]!.brk >= Break.soft && i > 0))
  )
    score -= 3
  if (i === 0 && next !== undefined && next.brk >= Break.soft && SPOKEN_TO.test(next.norm)) score -= 3
  // "…, Dewey" calls a person
  if (
    look.inside &&
    !led &&
    words[i]!.brk === Break.soft &&
    next === undefined &&
    /[.!?]/.test(words[i]!.mark) &&
    !/^(first|last|then|and|now)$/.test(before) &&
    words.length > 2
  )
    score -= 1.5
  const after = words[i + 2]
  if (
    next?.norm === 'first' &&
    opens &&
    next.brk < Break.hard &&
    (after === undefined || after.brk >= Break.inferred || odd || after.norm === words[i]!.norm)
  )
    score += odd ? 2.5 : 2
  if (
    next &&
    /^(last|next|now|again|then)$/.test(next.norm) &&
    opens &&
    (after === undefined || after.brk >= Break.inferred || after.norm === words[i]!.norm)
  )
    score += 2
  // "Thyme's up next", "Olive is next"
  if (
    opens &&
    next &&
    /^('s|is)$/.test(next.norm) &&
    words.slice(i + 2, i + 4).some((w) => /^(next|first|last)$/.test(w.norm))
  )
    score += 2
  // "close that up mars now": a hive is shut and the next named
  if (look.rare && look.unmarked && closedBefore(words, i)) score += 1.4
  if (pointedAt(words, i)) score += ends || next === undefined || AFTER_NAME.test(next.norm) ? 2.2 : 1.4
  if (
    opens &&
    next &&
    next.brk < Break.soft &&
    PREDICATE.has(next.norm) &&
    words.slice(i + 2, i + (look.unmarked ? 6 : 9)).some((w) => STRONG_TRADE.has(w.norm))
  )
    score += look.rare ? 2.2 : look.inside ? 1.6 : 1.2
  if (opens && next?.norm === 'which' && /^(is|has|had|'s)$/.test(after?.norm ?? '')) score += 1.8
  if (
    opens &&
    next?.norm === 'with' &&
    /^(\d+|one|two|three|four|five|six|seven|eight|nine|ten)$/.test(after?.norm ?? '')
  )
    score += 1.4
  if (next?.norm === 'one' && before === 'the' && !/(er|est|y)$/.test(words[i]!.norm)) score += 1.6
  if (/^(opened|checked|inspected|opening|checking)$/.test(before) && look.proper && look.inside) score += 1
  if (/^(on|in)$/.test(before) && look.rare && /^(we|there|i|they)$/.test(next?.norm ?? '')) score += 1.2
  if (opens && next?.norm === "'s" && after?.norm === 'the' && words.slice(i + 3, i + 6).some((w) => w.norm === 'one'))
    score += 1.6
  if (
    next?.norm === "'s" &&
    /^(queen|brood|bees|temper|super|stores|box|lot|got|still|light|heavy|strong|calm|hot|weak|away|looking)$/.test(
      after?.norm ?? '',
    )
  )
    score += 1
  if (
    opens &&
    next &&
    /^(\d+|one|two|three|four|five|six|seven|eight|nine|ten|single|double|brood|no|queen|eggs|saw|calm|strong|weak)$/.test(
      next.norm,
    ) &&
    words.slice(i + 1, i + 5).some((w) => STRONG_TRADE.has(w.norm))
  )
    score += look.rare ? 2.1 : next.brk >= Break.soft ? 1.7 : 0.8
  // "willow lots of bees", "hazel also eggs"
  else if (
    opens &&
    look.rare &&
    next &&
    !PERSONAL.test(next.norm) &&
    words.slice(i + 1, i + 5).some((w) => STRONG_TRADE.has(w.norm))
  )
    score += 1
  if (
    led &&
    next === undefined &&
    i <= 3 &&
    words[i]!.mark !== '?' &&
    words[i]!.mark !== '!' &&
    !/(ing|ed|ly)$/.test(words[i]!.norm)
  )
    score += 1.2
  else if (i === 0 && next && next.brk >= Break.soft && words[i]!.mark === '…') score += 1
  if (before === 'old' && words[i - 2]?.norm === 'poor') score += 1.5
  if (
    before === 'on' &&
    look.trade &&
    (i === 1 || words[i - 1]!.brk >= Break.inferred || LEAD.has(words[i - 2]?.norm ?? ''))
  )
    score += 1.2
  if (PLACING.has(before) && look.trade && words[i]!.brk < Break.inferred)
    score += look.proper && look.inside ? 1 : look.rare ? 1 : 0.6
  return score
}

/** "this is Thistle", "on to Cedar", "next up, Juniper", "over to the Gate", "starting with Rowan", "that's Rowan done". */
export function pointedAt(words: readonly Word[], i: number): boolean {
  const before = words[i - 1]?.norm ?? ''
  const earlier = words[i - 2]?.norm ?? ''
  if (words[i]!.brk >= Break.hard) return false
  if (/^(is|'s)$/.test(before))
    return (
      /^(this|one|next|first|last|second|here|up|hive|there)$/.test(earlier) ||
      (earlier === 'that' && words[i + 1]?.norm === 'done')
    )
  if (/^(to|onto)$/.test(before))
    return /^(on|over|back|onto|across|move|moving|moved|now|along|round|down|up|come|came|go|going|gone|out|straight|us|me|here|there|head|heading|get|getting|got)$/.test(
      earlier,
    )
  if (before === 'for') return /^(now|time|then|so|that)$/.test(earlier)
  if (before === 'do' || before === 'open') return /^(let's|will|'ll|to|i|we)$/.test(earlier)
  if (before === 'leaves' || before === 'called') return true
  if (/^(with|at|on|in)$/.test(before) && BEGINS.test(earlier)) return true
  if (before === 'at') return /^('m|am|are|'re|look|looking|now|here|is|'s)$/.test(earlier)
  if (before === 'with') return false
  if (before === 'the') return /^(to|onto)$/.test(earlier) && /^(on|over|back|across)$/.test(words[i - 3]?.norm ?? '')
  return (
    before === 'onto' ||
    /^(now|next|up|then|finally|lastly|called|here)$/.test(before) ||
    (/^(did|do|check|at)$/.test(before) && /^(we|i|quick|look|first|then|and)$/.test(earlier)) ||
    (before === 'and' && /^(last|finally|then)$/.test(words[i + 1]?.norm ?? ''))
  )
}

const BEGINS = /^(start|starting|begin|beginning|started|kick|kicking|kicked|off)$/

/** Whether a hive was closed just before word `i`, or the word said twice running: "… the pohutukawa pohutukawa oh these". */
function closedBefore(words: readonly Word[], i: number): boolean {
  if (words[i - 1]?.norm === words[i]!.norm) return true
  const behind = words.slice(Math.max(0, i - 5), i).map((w) => w.norm)
  while (behind.length > 0 && LEAD.has(behind[behind.length - 1]!)) behind.pop()
  return /(^| )((clos(e|ed|ing)|shut|button|buttoned|seal|sealed|put|got) (it|that|this|them|her|him)( one)?( back)?( up)?|lid( is| 's)?( back)? on|all (closed|shut|done)|that one( is| 's)? done|back together)$/.test(
    behind.join(' '),
  )
}

/** What comes right behind a hive's name when it is called. */
const AFTER_NAME =
  /^(\d+|one|two|three|four|five|six|seven|eight|nine|ten|is|has|'s|had|single|double|first|now|again|which|where|who|the|a|no|saw|and|also|eggs|brood|queen|still|got|we|i)$/

/** A number behind one of these belongs to it. */
const HOLDS_NUMBER =
  /^(the|a|an|of|in|on|from|with|about|maybe|at|to|for|only|got|have|has|had|another|is|are|was|'s|just|no|not|these|those|all|than|like|call|say|make|or|and|over|under|by|every|between|took|gave|put|saw|see|them|score|temper)$/

/** Behind one of these a number is a hive spoken of in passing, or an amount. */
const ELSEWHERE = /^(of|for|from|to|than|about|maybe|only|just|over|under|like|by|with|every|between|call|say|make|no)$/

/** A new sentence right behind a number, though nothing marks it: "… newspaper between | five, they're small". */
const STARTS_SENTENCE = /^(they|here|she|we|i)$/

/** What comes right behind a hive's bare number. */
const CALLED_NEXT =
  /^(single|double|strong|weak|no|not|queen|heavy|light|this|the|same|that|quiet|calm|hot|is|'s|has|had|got|still|dead|brood|bees|now|next|also|looks|she|they|i|we|it)$/

const UNIT_NEXT =
  /^(percent|of|out|in|or|to|mites?|beetles?|frames?|combs?|seams?|cells?|cups?|degrees|per|days?|weeks?|kilos?|pounds?|litres?|strips?|boxes|supers?|point|and|bees|brood|sides?|more|dead|hundred)$/

function gatherNumber(evidence: NameEvidence, words: readonly Word[], i: number, unmarked: boolean): void {
  const number = plainNumberAt(words, i)
  if (number === undefined) return
  const next = words[number.end]
  const before = words[i - 1]?.norm ?? ''
  if (/^(frames?|combs?|bars?)$/.test(before)) {
    evidence.frameCalls.push({ n: number.n, turn: evidence.turns })
  } else if (/^(hive|number|nr|colony|nuc|nucs)$/.test(before)) {
    // "Bluebell colony six frames of brood": the number counts frames
    if (!(/^(frames|seams)$/.test(next?.norm ?? '') && /^(of|brood|bees)$/.test(words[number.end + 1]?.norm ?? ''))) {
      evidence.hiveNumbers.push(number.n)
      if (number.n >= 20) evidence.called.push({ n: number.n, turn: evidence.turns, start: words[i]!.start, weight: 3 })
    }
  } else {
    // in text with marks only the first word of a sentence calls
    const leads = words.slice(0, i).every((w) => w.filler || LEAD.has(w.norm))
    const alone = leads && (next === undefined || next.brk >= Break.soft)
    const opens = leads && CALLED_NEXT.test(next?.norm ?? '')
    const held = HOLDS_NUMBER.test(before)
    // too big to count frames or boxes: only a unit or a word of direction keeps it from being a hive
    const big = number.n > 12 && !ELSEWHERE.test(before)
    const bare = unmarked && (held && !big ? STARTS_SENTENCE.test(next?.norm ?? '') : !UNIT_NEXT.test(next?.norm ?? ''))
    // "The one after him is 113.", "Then 120."
    const ends = next === undefined || next.brk >= Break.soft
    const named = big && number.n >= 20 && ends && /^(is|'s|then|and|now|next|one|at|to|onto)$/.test(before)
    if (alone || opens || bare || named)
      evidence.called.push({
        n: number.n,
        turn: evidence.turns,
        start: words[i]!.start,
        weight: alone ? 3 : opens ? 2 : 1,
      })
  }
}

/** The words that the evidence makes names of hives. */
export function namesFrom(evidence: NameEvidence): string[] {
  const out: string[] = []
  let alone = true
  const sure = [...evidence.scores.values()].filter(({ score }) => score >= ENOUGH).length
  const kindred = [...evidence.scores.values()].filter(({ score }) => score >= ALMOST).length
  for (const [word, { score: sum, times, best, first }] of evidence.scores) {
    // where hives go by numbers, "Ellie first" gives a person the first turn
    const score = evidence.hiveNumbers.length > 0 ? sum - first : sum
    const often = (evidence.seen.get(word) ?? 0) >= (sure < 2 ? 3 : score >= AMONG ? 1 : 2) && score >= ALMOST
    const kin = sure === 0 && kindred >= 3 && score >= ALMOST
    if (score < ENOUGH && !often && !kin) continue
    out.push(word)
    // the only name of a note must be called as a hive at least once, not just stand about
    if (best >= ENOUGH_ALONE || (times > 1 && score >= ENOUGH_ALONE)) alone = false
  }
  if (out.length === 1 && alone) return []
  return out.sort()
}

/** Hives that go by bare numbers ("One. … Two. … Three. …"): the first and last, and where each is called. */
export interface NumberedRun {
  readonly first: number
  readonly last: number
  /** From the place of the number in the source to the number. */
  readonly calls: ReadonlyMap<number, number>
}

/** What a note shows as a whole of how its hives are called. */
export interface WholeNote {
  readonly evidence: NameEvidence
  readonly run: NumberedRun | null
  /** Words taken for names of hives. */
  readonly learned: readonly string[]
}

/** Works out from the evidence so far what the note shows as a whole. */
export const wholeNote = (evidence: NameEvidence): WholeNote => ({
  evidence,
  run: numberedRun(evidence),
  learned: namesFrom(evidence),
})

interface Chain {
  readonly n: number
  readonly turn: number
  readonly start: number
  readonly score: number
  readonly length: number
  readonly before: Chain | null
}

/** How far apart two hives are called at least, in characters. */
const APART = 30

/** What it costs to leave one number of a row out: it may go unheard. */
const GAP = 2.5

/** "One. … Two. …": two that both stand out make a run where nothing else in the note is called. */
const pairIsEnough = (evidence: NameEvidence, score: number): boolean =>
  score >= 4 &&
  evidence.hiveNumbers.length === 0 &&
  evidence.frameCalls.length === 0 &&
  evidence.framesWalked === 0 &&
  ![...evidence.scores.values()].some((name) => name.score >= ENOUGH)

/** The strongest such run in this note; null where hives are called otherwise or frames are walked by number. */
export function numberedRun(evidence: NameEvidence): NumberedRun | null {
  if (evidence.hiveNumbers.length > 1 || evidence.frameCalls.length > 2 || evidence.framesWalked > 1) return null
  const upTo = new Map<number, Chain>()
  let best: Chain | null = null
  for (const { n, turn, start, weight } of evidence.called) {
    if (n === 0) continue
    // "Frame one, honey. Frame two, honey. Three, brood": a walk over frames goes on
    if (evidence.frameCalls.some((f) => f.n === n - 1 && f.turn <= turn && turn - f.turn <= 8)) continue
    let before: Chain | null = null
    let score = weight
    for (const [step, cost] of [
      [1, 0],
      [2, GAP],
    ] as const) {
      const earlier = step === 1 || n > 3 ? upTo.get(n - step) : undefined
      const lost = n > 12 ? cost / 5 : cost
      // side by side they are a list or counting aloud
      if (!earlier || earlier.turn > turn || start - earlier.start < APART || earlier.score - lost + weight <= score)
        continue
      before = earlier
      score = earlier.score - lost + weight
    }
    // far up, the numbers painted on hives leave many out
    if (n >= 30)
      for (let last = Math.max(30, n - 25); last < n - 2; last++) {
        const earlier = upTo.get(last)
        const lost = 0.6 + (n - last) / 20
        if (!earlier || earlier.score - lost + weight <= score) continue
        if (earlier.turn > turn || start - earlier.start < APART / 2) continue
        before = earlier
        score = earlier.score - lost + weight
      }
    const known = upTo.get(n)
    if (known && known.score >= score) continue
    const chain: Chain = { n, turn, start, score, length: (before?.length ?? 0) + 1, before }
    upTo.set(n, chain)
    if ((chain.length >= 3 || (chain.length === 2 && pairIsEnough(evidence, score))) && (!best || score > best.score))
      best = chain
  }
  if (!best) return null
  const calls = new Map<number, number>()
  let first = best
  for (let at: Chain | null = best; at; at = at.before) {
    calls.set(at.start, at.n)
    first = at
  }
  // "Hive nine. … Three. Four. Five.": what is counted here is not hives
  if (evidence.hiveNumbers.some((n) => n < first.n - 1 || n > best!.n + 1)) return null
  return { first: first.n, last: best.n, calls }
}
