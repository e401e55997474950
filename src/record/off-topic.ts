import type { Draft } from './state.ts'

/** Words that hardly anybody says but of bees. */
const OF_BEES =
  /\b(bees?|beehives?|beekeep\w*|honeybees?|hives?|nucs?|nukes?|apiar\w+|queen\w*|requeen\w*|brood\w*|larvae?|grubs?|honeycombs?|combs?|supers|swarm\w*|drones?|nectar|pollen|honey|varroa|mites?|beetles?|wax moths?|foulbrood|chalk ?brood|excluders?|supersed\w*|foragers?|fondant|oxalic|formic|propolis|robbed out|seams?)\b/gi
/** Words of the trade that are everyday words as well: it takes two different ones. */
const OF_BEES_TOO =
  /\b(frames?|super|ideals?|foundation|foraging|smoker|syrup|robbing|colony|colonies|eggs?|cells?|capped|sealed|stores|cups?|feeders?|box|boxes)\b/gi

/** Some hundred words of speech, in characters: a walk round a hive names its trade far more often. */
const REACH = 600
/** A text with a word of the trade in so many characters on average is about bees all through. */
const THROUGHOUT = 400

/**
 * Leaves out what was read where nobody speaks of bees: "it was quiet, about ten degrees" is temper and weather of a visit
 * only near words of the trade. A note shorter than the reach is taken to be about bees whatever it says. Linear in the text.
 */
export function onTopic(drafts: Draft[], text: string): Draft[] {
  if (text.length <= REACH) return drafts
  const places = [...text.matchAll(OF_BEES)].map((match) => match.index)
  if (places.length * THROUGHOUT >= text.length) return drafts
  const soft = [...text.matchAll(OF_BEES_TOO)]
  for (let i = 1; i < soft.length; i++) {
    const [before, here] = [soft[i - 1]!, soft[i]!]
    const differ = before[0].toLowerCase().replace(/s$/, '') !== here[0].toLowerCase().replace(/s$/, '')
    if (differ && here.index - before.index <= REACH / 4) places.push(here.index)
  }
  places.sort((a, b) => a - b)
  return drafts.filter(({ evidence }) => evidence.some(({ start, end }) => isNear(places, start, end)))
}

/** Whether one of the rising `places` lies within reach of a stretch, but not in it. */
function isNear(places: readonly number[], start: number, end: number): boolean {
  let low = 0
  let high = places.length
  while (low < high) {
    const middle = (low + high) >> 1
    if (places[middle]! < start - REACH) low = middle + 1
    else high = middle
  }
  for (let i = low; i < places.length && places[i]! <= end + REACH; i++)
    if (places[i]! < start || places[i]! >= end) return true
  return false
}
