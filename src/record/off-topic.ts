import { leading } from '../span.ts'
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

/** Where a text has words of the trade. It grows with the text: what was looked through is not looked through again. */
export interface TradeWords {
  /** How much of the text was looked through. */
  seen: number
  readonly places: number[]
  readonly pairs: number[]
  softer: { word: string; at: number } | null
}

export const newTradeWords = (): TradeWords => ({ seen: 0, places: [], pairs: [], softer: null })

/** Looks through what is new in a text that may have grown. No word reaches over a line break. */
export function findTradeWords(found: TradeWords, text: string): void {
  for (const { index } of from(OF_BEES, found.seen, text)) found.places.push(index)
  for (const match of from(OF_BEES_TOO, found.seen, text)) {
    const here = { word: match[0].toLowerCase().replace(/s$/, ''), at: match.index }
    const before = found.softer
    if (before && before.word !== here.word && here.at - before.at <= REACH / 4) found.pairs.push(here.at)
    found.softer = here
  }
  found.seen = text.length
}

function* from(pattern: RegExp, start: number, text: string): Generator<RegExpExecArray> {
  const own = new RegExp(pattern)
  own.lastIndex = start
  for (let match = own.exec(text); match; match = own.exec(text)) yield match
}

/** Whether a text is about bees all through, so that nothing in it is left out. */
export const isAllOfBees = ({ places }: TradeWords, text: string): boolean =>
  text.length <= REACH || places.length * THROUGHOUT >= text.length

/**
 * Leaves out what was read where nobody speaks of bees: "it was quiet, about ten degrees" is temper and weather of a visit
 * only near words of the trade. A note shorter than the reach is taken to be about bees whatever it says. Linear in the text.
 */
export function onTopic(drafts: Draft[], found: TradeWords, text: string): Draft[] {
  if (isAllOfBees(found, text)) return drafts
  return drafts.filter(({ evidence }) =>
    evidence.some(({ start, end }) => isNear(found.places, start, end) || isNear(found.pairs, start, end)),
  )
}

/** Whether one of the rising `places` lies within reach of a stretch, but not in it. */
function isNear(places: readonly number[], start: number, end: number): boolean {
  const first = leading(places, (place) => place < start - REACH)
  for (let i = first; i < places.length && places[i]! <= end + REACH; i++)
    if (places[i]! < start || places[i]! >= end) return true
  return false
}
