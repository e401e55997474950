import { Break, type Utterance, type Word } from '../language/word.ts'
import type { State } from './state.ts'

/** Common words that stand before "hive" without being its name. */
const NOT_NAMES = new Set(
  'the a an this that my your our their his her each every any all some no one other another next last first second third whole same new old empty single double bee bees honey brood main strong weak small big little poor good best worst bad hot strongest weakest biggest dead mean nice per which what number of in on to from at for with and or but so is was swarm nuc top bottom bait quiet poly long bar per two three four five six seven eight nine ten both few many more most out off back front mating busy strong mother parent original donor host middle end left right beehive robbed sick light heavy'.split(' '),
)
const COLOURS = new Set('blue red green yellow white pink purple orange black grey brown'.split(' '))

/**
 * Learns hive names from how they are used: "the shed hive", "Pelican first", "Cedar hive", a capitalised word alone where
 * a hive is due. Names stay known for the rest of the note; what the yard file names is known from the start.
 */
export function guessNames(state: State, utterance: Utterance, hives: Map<string, string>): void {
  const { words } = utterance
  for (let i = 0; i < words.length; i++) {
    if (words[i]!.norm !== 'hive' && words[i]!.norm !== 'colony' && words[i]!.norm !== 'nuc') continue
    const name = words[i - 1]
    if (!name || words[i]!.brk >= Break.soft) continue
    if (words[i]!.norm === 'nuc' && !(/^\p{Lu}/u.test(name.said) && i > 1)) continue
    if (!nameLike(name)) continue
    const article = words[i - 2]?.norm
    const opens = i - 1 === 0 || words[i - 1]!.brk >= Break.inferred
    if (article === 'the' || opens || /^\p{Lu}/u.test(name.said) || COLOURS.has(name.norm)) hives.set(name.norm, name.norm)
  }
  // "Pelican first." · "Bramble, last." · "Heron. Uh-oh."
  const first = words[0]
  if (!first || !/^\p{Lu}\p{Ll}+$/u.test(first.said) || !nameLike(first) || COMMON.has(first.norm)) return
  const second = words[1]
  const alone = second === undefined || (second.brk >= Break.soft && first.mark !== '!' && first.mark !== '?')
  const announced = second !== undefined && /^(first|last|next|now|then)$/.test(second.norm) && (words[2] === undefined || words[2].brk >= Break.soft)
  if (announced && state.turn > 0) hives.set(first.norm, first.norm)
  else if (alone && state.hives.some((hive) => hives.has(hive)) && words.length === 1 && first.mark === '.') hives.set(first.norm, first.norm)
}

const nameLike = (word: Word): boolean => /^\p{L}{3,}$/u.test(word.norm) && !NOT_NAMES.has(word.norm) && !word.filler && !/^(not|very|really|into|onto|under|over|than|then|just|like|only|still|now|here|there|well|good)$/.test(word.norm)

/** Sentence openers and exclamations that are no names, and trade words said as headings. */
const COMMON = new Set(
  'right okay yes yep yeah nope nah good lovely great fine grand perfect nice well now so anyway then wow ouch oof huh hmm nothing none same next flip wait gently done first second third fourth fifth sixth seventh eighth ninth tenth last brood eggs larvae capped sealed honey nectar pollen stores empty foundation drawn super supers deep excluder queen queens cells cups beetles mites varroa wash board boards temper calm quiet strong weak spotty solid single double dead deadout queenless light heavy smoke lid roof floor shake squish sunny overcast cloudy rain windy feed fed treated wasps hornets ants mice moth chalk biscuit beautiful gorgeous brilliant bother blast damn hello sorry thanks please look see there here left top bottom middle both all most half medium mediums ideal ideals shallow boomer lambs leave take back one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen twenty thirty monday tuesday wednesday thursday friday saturday sunday january february march april may june july august september october november december kettle'.split(' '),
)
