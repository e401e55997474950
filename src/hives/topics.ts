import type { Word } from '../language/word.ts'

/** A word that speaks of something a keeper notes of each hive. */
export interface Topical {
  /** Words of the note before it. */
  readonly word: number
  readonly topic: number
}

const TOPICS: readonly (readonly string[])[] = [
  'queen queens queenless queenright her majesty herself'.split(' '),
  'egg eggs larva larvae grubs grub milk'.split(' '),
  'brood capped sealed laying'.split(' '),
  'frame frames comb combs bars'.split(' '),
  'seam seams'.split(' '),
  'stores honey food fondant syrup feed fed feeder pollen nectar kilo kilos light heavy hefted weight'.split(' '),
  'super supers box boxes single double'.split(' '),
  'cell cells cup cups swarm charged'.split(' '),
  'beetle beetles mite mites varroa moth trap chalkbrood mummies wash'.split(' '),
  'calm quiet hot cross grumpy temper nasty defensive gentle stung'.split(' '),
  'strong weak bees booming packed population small busy'.split(' '),
  'side sides face faces foundation drawn blank wall arc arcs corner corners edge edges flip flipped turn middle patchy solid'.split(
    ' ',
  ),
]
/** Talk of single combs, frame by frame. */
export const COMB_TALK = TOPICS.length - 1
/** Talk of frames, which is told of a hive as well ("six frames of brood"). */
export const FRAME_TALK = 3
const BY_WORD = new Map(TOPICS.flatMap((words, i) => words.map((word) => [word, i] as const)))

/** How many kinds of things are told apart in talk at a hive. */
export const TOPIC_COUNT = TOPICS.length

/** What a word speaks of, if of anything a keeper notes of each hive. */
export const topicOf = ({ norm }: Word): number | undefined => BY_WORD.get(norm)
