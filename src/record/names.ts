import { Break, type Utterance, type Word } from '../language/word.ts'
import type { State } from './state.ts'

/** Common words that stand before "hive" without being its name. */
const NOT_NAMES = new Set(
  'the a an this that my your our their his her each every any all some no one other another next last first second third whole same new old empty single double bee bees honey brood main strong weak small big little poor good best worst bad hot strongest weakest biggest dead mean nice per which what number of in on to from at for with and or but so is was swarm nuc top bottom bait quiet poly long bar two three four five six seven eight nine ten both few many more most out off back front mating busy mother parent original donor host middle end left right robbed sick light heavy not very really into onto under over than then just like only still now here there well langstroth national every'.split(' '),
)
/** Words that open a sentence with a capital and are no names of hives. */
const COMMON = new Set(
  'right okay ok yes yep yeah nope nah no good lovely great fine grand perfect nice well now so anyway then wow ouch oof huh hmm nothing none same next flip wait gently done first second third fourth fifth sixth seventh eighth ninth tenth last brood eggs larvae capped sealed nectar pollen stores empty foundation drawn super supers deep excluder queen queens cells cups beetles beetle mites varroa wash board boards temper temperament calm quiet strong weak spotty solid single double triple dead deadout queenless light heavy smoke lid roof floor shake squish sunny overcast cloudy clear rain windy feed fed treated wasps hornets ants mice moth chalk biscuit beautiful gorgeous brilliant bother blast damn hello sorry thanks please look see there here left top bottom middle both all most half medium mediums ideal ideals shallow boomer lambs leave take back one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen twenty thirty forty fifty sixty seventy eighty ninety hundred monday tuesday wednesday thursday friday saturday sunday january february march april may june july august september october november december i he she it they we you this that these those what who where when why how and but or if because is are was were do did does have has had can could will would should must might let put get got give gave go going come came keep kept been being about after before again also any as at by for from in into of off on onto out over to under up with without just only really very still maybe perhaps probably definitely oh ah ow hey hi come frames frame side hive hives colony bees population pattern forage flow dearth weather temperature wind warm cold hot nearly almost about mostly some few lots plenty loads heaps tons stores honey syrup fondant candy patty oxalic formic thymol amitraz number note notes home yard apiary everything everyone everybody nobody somebody cells polished open close shut closed today tomorrow tonight yesterday later soon spring summer autumn winter fall once twice every each much more less enough too not never always usually normally need needs want wants make made said say think thought reckon guess remember write order buy check checked test tested split united moved marked clipped caged swarm swarmed robbing robbed treat mouse aye och ach wee mind ta eh sure lads girls ladies bees grand class deadly bonny braw hiya yous youse blimey crikey jeez jesus christ god heavens goodness gosh dear darling love sweetheart hon honey missus hello gently careful easy slowly quickly apart bit couple handful stings sting ow bang shook shaken smoker smoked glove gloves veil hat suit tool bucket tray lid lids crown crownboard cover mat quilt frame comb combs bar bars wax propolis honeycomb nuc nucs swarms cast casts queenright virgin virgins cell cup drones drone workers worker robbers robber patchy pepper shotgun scattered tight fat skinny long short small large big tiny huge enormous decent middling fair ordinary average poor rubbish terrible awful shocking dreadful bad worse worst better best same ditto likewise ready finished finally lastly besides plus minus total overall altogether sum roughly approximately alright righto cheers bugger steady easy'.split(' '),
)
const PERSON = /^(says?|said|reckons?|wants?|thinks?|told|tells|asked|asks|came|comes|brought|has the|'s got the)$/
/** What a hive does or has, right behind its name. */
const PREDICATE = new Set(['has', 'had', 'is', 'was', "'s", 'got', 'hive', 'looks', 'seems', 'gets', 'wants', 'needs', 'still', 'are', 'have'])

/**
 * Learns hive names from how they are used: "the shed hive", "Pelican first", "this is Thistle", "on to Cedar", a
 * capitalised word alone where a hive is due. Names stay known for the rest of the note; what the yard file names is known
 * from the start. Returns the name of a hive that these words turn out to have opened.
 */
export function guessNames(state: State, utterance: Utterance, hives: Map<string, string>): string | null {
  const { words } = utterance
  const confirmed = confirmCandidate(state, words, hives)
  learn(state, words, hives)
  return confirmed
}

function learn(state: State, words: readonly Word[], hives: Map<string, string>): void {
  const cased = words.some((w) => /^\p{Lu}/u.test(w.said)) && words.some((w) => /^\p{Ll}/u.test(w.said))
  for (let i = 0; i < words.length; i++) {
    beforeHive(words, i, hives)
    afterPointer(words, i, hives, cased)
  }
  for (let i = 0; i + 1 < words.length; i++) announcedFirst(words, i, hives)
  let lead = 0
  while (lead < 2 && words[lead] && (LEAD.has(words[lead]!.norm) || words[lead]!.filler)) lead++
  const first = words[lead]
  if (!first || !capital(first) || !nameLike(first) || COMMON.has(first.norm)) return
  const second = words[lead + 1]
  if (second === undefined) {
    // "Heron." alone: a name if what follows opens a hive
    if (first.mark === '.' && state.hives.some((hive) => !/\d/.test(hive))) state.candidate = { name: first.norm, turn: state.turn + 1 }
    return
  }
  // where hives go by numbers, a capital at the start of a sentence is just that
  const numbered = state.expected !== null || (state.calledBy !== null && state.calledBy !== 'name')
  const announced = /^(first|last|next|now|then|hive)$/.test(second.norm) && (words[lead + 2] === undefined || words[lead + 2]!.brk >= Break.soft)
  const rest = words.slice(lead + 1)
  if (announced) hives.set(first.norm, first.norm)
  else if (numbered) return
  else if (second.brk === Break.soft && !PERSON.test(second.norm) && rest.length <= 8 && rest.some((w) => COUNTED.has(w.norm))) hives.set(first.norm, first.norm)
  else if (cased && PREDICATE.has(second.norm) && second.brk < Break.soft && !PERSON.test(rest[1]?.norm ?? '') && rest.slice(1).some((w) => TRADE.has(w.norm))) hives.set(first.norm, first.norm)
}

/** A name said alone becomes the hive when the next words open one ("this is the one", "single", "four seams"). */
function confirmCandidate(state: State, words: readonly Word[], hives: Map<string, string>): string | null {
  const { candidate } = state
  if (!candidate || state.turn + 1 - candidate.turn > 3) return null
  if (!words.slice(0, 8).some((w) => OPENS.has(w.norm))) return null
  state.candidate = null
  hives.set(candidate.name, candidate.name)
  return candidate.name
}

const COUNTED = new Set('seams frames supers super boxes box single double brood bees'.split(' '))
const OPENS = new Set('this single double seams supers super lid roof bees only crown deep'.split(' '))
const TRADE = new Set('frames frame brood bees queen eggs larvae seams boxes supers super honey stores swarm light strong calm hot beetles mites cells fondant syrup hive'.split(' '))
const LEAD = new Set('and then now right okay ok so next well alright lastly finally first'.split(' '))
const capital = (word: Word): boolean => /^\p{Lu}\p{Ll}+$/u.test(word.said)
const nameLike = (word: Word): boolean => /^\p{L}{3,}$/u.test(word.norm) && !NOT_NAMES.has(word.norm) && !word.filler

function beforeHive(words: readonly Word[], i: number, hives: Map<string, string>): void {
  const norm = words[i]!.norm
  if (norm !== 'hive' && norm !== 'colony') return
  const name = words[i - 1]
  if (!name || words[i]!.brk >= Break.soft || !nameLike(name) || /^\d/.test(name.norm)) return
  const article = words[i - 2]?.norm
  const opens = words[i - 1]!.brk >= Break.inferred
  const led = LEAD.has(article ?? '')
  const announced = /^(first|now|next|last)$/.test(words[i + 1]?.norm ?? '')
  if (article === 'the' || opens || led || announced || capital(name)) hives.set(name.norm, name.norm)
}

/** "waffle first", with or without capitals: nobody says that of anything but a place in a round. */
function announcedFirst(words: readonly Word[], i: number, hives: Map<string, string>): void {
  const name = words[i]!
  if (words[i + 1]!.norm !== 'first' || words[i + 1]!.brk >= Break.hard || !nameLike(name) || COMMON.has(name.norm)) return
  const before = i === 0 ? '' : words[i - 1]!.norm
  const after = words[i + 2]
  if ((i === 0 || words[i]!.brk >= Break.inferred || /^(so|and|okay|right|with|start|the|phone)$/.test(before)) && (after === undefined || after.brk >= Break.inferred || after.norm === name.norm)) hives.set(name.norm, name.norm)
}

/** "this is Thistle", "on to Cedar", "next up, Juniper", "over to the Gate". */
function afterPointer(words: readonly Word[], i: number, hives: Map<string, string>, cased: boolean): void {
  const name = words[i]!
  if (i === 0 || !cased || !capital(name) || !nameLike(name) || COMMON.has(name.norm)) return
  const before = words[i - 1]!.norm
  const earlier = words[i - 2]?.norm ?? ''
  const pointed =
    (/^(is|'s)$/.test(before) && /^(this|one|next|first|last|second|that|here)$/.test(earlier)) ||
    (/^(to|onto)$/.test(before) && /^(on|over|back|onto|across)$/.test(earlier)) ||
    (before === 'onto' && words[i]!.brk === Break.none) ||
    (/^(now|next|up|then|finally|lastly)$/.test(before) && (words[i + 1] === undefined || words[i + 1]!.brk >= Break.soft))
  if (pointed && !/^(and|or)$/.test(words[i + 1]?.norm ?? '')) hives.set(name.norm, name.norm)
}
