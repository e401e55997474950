import { Break, type Utterance, type Word } from '../language/word.ts'
import type { State } from './state.ts'

/** Words of everyday English, and of the grammar: none of them is taken for a name on slight evidence. */
export interface Vocabulary {
  readonly common: ReadonlySet<string>
  readonly trade: ReadonlySet<string>
}

const set = (words: string): ReadonlySet<string> => new Set(words.split(' '))

/** Words that stand before "hive" without being its name. */
const NOT_NAMES = set(
  'the a an this that my your our their his her each every any all some no one other another next last first second third whole same new old empty single double bee bees honey brood main strong weak small big little poor good best worst bad hot strongest weakest biggest dead mean nice per which what number of in on to from at for with and or but so is was swarm nuc top bottom bait quiet poly long bar two three four five six seven eight nine ten both few many more most out off back front mating busy mother parent original donor host end left right robbed sick light heavy not very really into onto under over than then just like only still now here there well langstroth national open check checking opened close beetle beetles it them him these those i we you he she they spare healthy happy crowded packed full',
)
const LEAD = set('and then now right okay ok so next well alright lastly finally first oh righto')
const COUNTED = set('seams frames supers super boxes box single double brood bees frame queen eggs')
const STRONG_TRADE = set('brood eggs larvae seams frames queen beetles mites cells supers super light strong bees boxes spotty calm weak stores')
/** What a hive does or has, right behind its name. */
const PREDICATE = set("has had is was 's got looks seems gets needs still are have")
const PERSON = /^(says?|said|reckons?|wants?|thinks?|told|tells|asked|asks|came|comes|brought|the)$/
/** Words that open a hive right behind its name, where nothing is marked. */
const OPENS = set('this single double seams supers super lid roof only crown deep two one three brood eggs queen here')
/** Discourse words and exclamations, common in speech though not in print. */
const SPOKEN = set('okay yep yeah nope nah aye och ach righto anyway hmm gorgeous beauty biscuit cheers blimey crikey squish ditto likewise seriously sorry ropes grouchy toey popping goldenrod sourwood maple willow dandelion ivy hawthorn canola clover lime bramble heather rape ling titi tupelo basswood acacia manuka')

const NUMBERS = set('fourth fifth sixth seventh eighth ninth tenth eleventh twelfth eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen twenty thirty forty fifty sixty seventy eighty ninety hundred thousand dozen')
/** Words that hold the next one as part of their phrase. */
const CLINGS = set("the a an in on from with to of for than like as at off into some no more or what old did do does after before my our your his her their this that these those is 's are was were has had have i you he she it they we very so too by over under not and")
/** Shapes of verbs and adjectives, for words said alone. */
const VERBAL = /(ing|ed|ly|ity|uity|sh|oot)$/

const capital = (word: Word): boolean => /^\p{Lu}\p{Ll}+$/u.test(word.said)
const nameLike = (word: Word): boolean => /^\p{L}{3,}$/u.test(word.norm) && !NOT_NAMES.has(word.norm) && !word.filler && word.cost === 0 && !NUMBERS.has(word.norm) && !LEAD.has(word.norm)

/**
 * Learns hive names from how they are used: "the shed hive", "Pelican first", "this is Thistle", "on to Cedar", a rare word
 * right before "two supers". Names stay known for the rest of the note; what the yard file names is known from the start.
 * Returns the name of a hive that these words turn out to have opened.
 */
export function guessNames(state: State, utterance: Utterance, hives: Map<string, string>, vocabulary: Vocabulary): string | null {
  const { words } = utterance
  const confirmed = confirmCandidate(state, words, hives)
  const cased = words.some((w) => /^\p{Lu}/u.test(w.said)) && words.some((w) => /^\p{Ll}/u.test(w.said))
  const rare = (word: Word): boolean => nameLike(word) && !vocabulary.common.has(word.norm) && !vocabulary.trade.has(word.norm) && !SPOKEN.has(word.norm)
  const proper = (word: Word): boolean => nameLike(word) && capital(word) && !vocabulary.trade.has(word.norm)
  const learn = (word: Word): void => void hives.set(word.norm, word.norm)
  // where hives go by numbers, an odd word at the start of a sentence is just that
  const unmarked = words.length > 6 && words.every((w, i) => i === 0 || w.brk < Break.soft)
  const numbered = state.expected !== null || (state.calledBy !== null && state.calledBy !== 'name')
  words.forEach((word, i) => {
    if (!nameLike(word)) return
    const before = words[i - 1]?.norm ?? ''
    const next = words[i + 1]
    if (isBeforeHive(words, i)) return learn(word)
    const named = capital(word) && !vocabulary.common.has(word.norm) && (i > 0 || !vocabulary.trade.has(word.norm))
    const odd = named || rare(word) || (proper(word) && (i > 0 ? word.brk < Break.hard : !vocabulary.common.has(word.norm)))
    const starts = i === 0 || word.brk >= Break.inferred || LEAD.has(before) || (unmarked && !CLINGS.has(before))
    const ends = next === undefined || next.brk >= Break.soft
    // "waffle first", "Bramble, last"
    if (next && (next.norm === 'first' || (/^(last|next|now)$/.test(next.norm) && odd && (words[i + 2] === undefined || words[i + 2]!.brk >= (cased ? Break.soft : Break.inferred) || words[i + 2]!.norm === word.norm || words[i + 2]!.norm === 'last'))) && (starts || odd) && (odd || proper(word) || words[i + 2]?.norm === word.norm) && (words[i + 2] === undefined || words[i + 2]!.brk >= Break.inferred || words[i + 2]!.norm === word.norm || OPENS.has(words[i + 2]!.norm) || odd)) return learn(word)
    if (!odd) return
    if (pointedAt(words, i) && (ends || OPENS.has(next!.norm) || /^\d/.test(next!.norm))) return learn(word)
    if (numbered || !starts || next === undefined) return
    if (next.brk < Break.soft && PREDICATE.has(next.norm) && !PERSON.test(words[i + 2]?.norm ?? '') && words.slice(i + 2, i + 8).some((w) => STRONG_TRADE.has(w.norm))) return learn(word)
    if (words.slice(i + 1, i + 4).some((w) => COUNTED.has(w.norm)) && /^(\d+|one|two|three|four|five|six|seven|eight|nine|ten|single|double|brood|queen|eggs|a)$/.test(next.norm)) return learn(word)
    if (!cased && /^(single|double|two|three|one|\d)$/.test(next.norm) && words.slice(i + 2, i + 4).some((w) => COUNTED.has(w.norm))) learn(word)
  })
  const first = words[0]
  if (words.length === 1 && first && first.mark !== '!' && first.mark !== '?' && !numbered && !VERBAL.test(first.norm) && state.hives.some((hive) => !/\d/.test(hive)) && (rare(first) || (proper(first) && !vocabulary.common.has(first.norm)))) state.candidate = { name: first.norm, turn: state.turn + 1 }
  return confirmed
}

/** A name said alone becomes the hive when the next words open one ("this is the one", "single", "four seams"). */
function confirmCandidate(state: State, words: readonly Word[], hives: Map<string, string>): string | null {
  const { candidate } = state
  if (!candidate || state.turn + 1 - candidate.turn > 3) return null
  if (hives.has(candidate.name) || !words.slice(0, 8).some((w) => OPENS.has(w.norm))) return null
  state.candidate = null
  hives.set(candidate.name, candidate.name)
  return candidate.name
}

/** "the shed hive", "Cedar hive", "gable hive first". */
function isBeforeHive(words: readonly Word[], i: number): boolean {
  const hive = words[i + 1]
  if (!hive || (hive.norm !== 'hive' && hive.norm !== 'colony') || hive.brk >= Break.soft || words[i]!.norm.endsWith('ing') && words[i - 1]?.norm !== 'the') return false
  if (SPOKEN.has(words[i]!.norm) && !capital(words[i]!) && words[i - 1]?.norm !== 'the') return false
  if (/^\d|^(one|two|three|four|five|six|seven|eight|nine|ten|number)$/.test(words[i + 2]?.norm ?? '') && words[i + 2]!.brk < Break.soft && (words[i - 1]?.norm !== 'the' || !COUNTED.has(words[i + 3]?.norm ?? ''))) return false
  const before = words[i - 1]?.norm ?? ''
  return before === 'the' || i === 0 || words[i]!.brk >= Break.inferred || LEAD.has(before) || capital(words[i]!) || /^(first|now|next|last)$/.test(words[i + 2]?.norm ?? '')
}

/** "this is Thistle", "on to Cedar", "next up, Juniper", "over to the Gate", "now Rowan". */
function pointedAt(words: readonly Word[], i: number): boolean {
  const before = words[i - 1]?.norm ?? ''
  const earlier = words[i - 2]?.norm ?? ''
  if (/^(is|'s)$/.test(before)) return /^(this|one|next|first|last|second|here|up)$/.test(earlier)
  if (/^(to|onto)$/.test(before)) return /^(on|over|back|onto|across|move|moving|now)$/.test(earlier)
  if (before === 'the') return /^(to|onto)$/.test(earlier) && /^(on|over|back|across)$/.test(words[i - 3]?.norm ?? '')
  return before === 'onto' || /^(now|next|up|then|finally|lastly)$/.test(before)
}
