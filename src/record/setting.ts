import type { Line } from '../grammar/line.ts'
import { readAmount } from '../language/amounts.ts'
import { isUnmarked, type Word } from '../language/word.ts'
import type { Facts } from '../reading/find.ts'
import type { Mention } from '../reading/mention.ts'
import { frameInPassing, memoryOf, type State } from './state.ts'
import { areAll, clauseBegins, clauseEnds, isSuperWord, type Turn } from './turn.ts'

/** Whether the words of a grammar line can mean that here: one of its `when` settings and none of its `never`. */
export function holds(line: Line, turn: Turn, mention: Mention): boolean {
  const here = (setting: string): boolean =>
    setting.split('+').every((part) => setHere(part, turn.state, turn.utterance.words, mention.from, mention.to))
  if (line.never?.some(here)) return false
  return line.when === undefined || line.when.some(here)
}

/**
 * Whether a line could mean something for the words from..to, before the words around them are applied: a setting that
 * other words of the utterance may bring about counts as possible.
 */
export function possible(
  line: Line,
  state: State,
  all: readonly Word[],
  from: number,
  to: number,
  facts: Facts,
): boolean {
  const could = (setting: string): boolean => {
    if (setting.startsWith('topic:') && facts.topics.has(setting.slice(6))) return true
    if (setting === 'topic:pest' && [...facts.topics].some((topic) => PEST.test(topic))) return true
    if (setting.startsWith('content:') && facts.contents.has(setting.slice(8))) return true
    if (
      facts.places &&
      /^(super|brood|notsuper|frame|noframe|side|honeycombs|walk|hives|named|hassupers|bynumber)$/.test(setting)
    )
      return true
    if (setting === 'harvest' && (facts.topics.has('honey') || all.some(isSuperWord))) return true
    if (from > 0 && /^(asked|given:)/.test(setting)) return true
    if (setting === 'hassupers' && facts.topics.has('super')) return true
    return setHere(setting, state, all, from, to)
  }
  return line.when === undefined || line.when.some((setting) => setting.split('+').every(could))
}

/** How many utterances a topic lasts. */
const TOPIC_LASTS = 3

const PEST = /^(?:number:)?pest\.((?!varroa)\w+)/

/** The pest that was spoken of last. */
export const pestSpokenOf = (state: State): string | undefined => PEST.exec(topicOf(state) ?? '')?.[1]

export const topicOf = (state: State): string | null =>
  state.topic !== null && state.turn - state.topicTurn <= TOPIC_LASTS ? state.topic : null

/** In a box of honey: a super, or a frame walk in a hive whose supers are being gone through. */
export const inSuper = (state: State): boolean => state.box?.role === 'super'

/** Honey is being gone through. */
export const isHarvest = (state: State): boolean => inSuper(state) || combsOf(state) === 'honey'

/** What says of a hive that the comb in hand is of the nest. */
const OF_NEST =
  /^(frames\.(brood|cappedBrood|openBrood|eggs|droneBrood)|brood\.|eggs\.|larvae\.|cappedBrood\.|droneBrood\.|queen\.seen)/

/**
 * What the combs of this hive were spoken of as so far, where no box was named: of the nest once brood was said of one;
 * of honey when shares of capped or filled honey were given and no brood.
 */
export function combsOf(state: State): 'honey' | 'brood' | null {
  if (state.box !== null) return state.box.role === 'super' ? 'honey' : 'brood'
  let honey = false
  for (let i = state.drafts.length - 1; i >= 0; i--) {
    const draft = state.drafts[i]!
    if (draft.hive !== state.hive) break
    if (draft.dead !== null || draft.box?.role === 'super') continue
    if (OF_NEST.test(draft.field) || (draft.field === 'frame.holds' && /brood|larvae|eggs/i.test(String(draft.value))))
      return 'brood'
    if (/^honey\.(capped|filled)/.test(draft.field)) honey = true
  }
  return honey ? 'honey' : null
}

function setHere(setting: string, state: State, all: readonly Word[], from: number, to: number): boolean {
  if (setting === 'topic:pest') return pestSpokenOf(state) !== undefined
  if (setting.startsWith('topic:')) return topicOf(state) === setting.slice(6)
  if (setting.startsWith('given:')) return state.given.has(setting.slice(6))
  if (setting.startsWith('asked:'))
    return state.pending?.topic === setting.slice(6) && state.turn - state.pending.turn <= 3
  if (setting.startsWith('content:'))
    return state.lastContent === setting.slice(8) && state.turn - state.contentTurn <= 2
  switch (setting) {
    case 'super':
      return inSuper(state)
    case 'brood':
      return state.box?.role === 'brood'
    case 'notsuper':
      return !inSuper(state)
    case 'frame':
      return state.inHand
    case 'harvest':
      return isHarvest(state)
    case 'honeycombs':
      return state.inHand && combsOf(state) === 'honey'
    case 'side':
      return state.inHand && state.side !== null
    case 'noframe':
      return !state.inHand || frameInPassing(state)
    case 'start':
      return clauseBegins(all, from)
    case 'end':
      return clauseEnds(all, to)
    case 'alone':
      return areAll(all, from, to)
    case 'unmarked':
      return all.length > 4 && isUnmarked(all)
    case 'asked':
      return state.pending !== null && state.turn - state.pending.turn <= 3
    case 'unnamed':
      return !state.named
    case 'named':
      return state.named
    case 'early':
      return state.turn <= 6
    case 'walk':
      return state.walk === 'frames'
    case 'bynumber':
      return state.calledBy === 'number'
    case 'nextframe':
      return (
        state.walk === 'frames' && state.calledBy !== 'number' && numberIn(all, from, to) === (state.frame ?? 0) + 1
      )
    case 'notnextframe':
      return !(state.walk === 'frames' && numberIn(all, from, to) === (state.frame ?? 0) + 1)
    case 'numhives':
      return /\d$/.test(state.hive) && state.calledBy !== 'name'
    case 'nexthive':
      return /\d$/.test(state.hive) && numberIn(all, from, to) === Number(/\d+$/.exec(state.hive)![0]) + 1
    case 'expects':
      return state.expected !== null
    case 'byorder':
      return state.calledBy === 'order'
    case 'bare':
      return state.calledBy === 'bare'
    case 'hives':
      return state.walk === 'hives'
    case 'hassupers':
      return (memoryOf(state, state.hive).supers ?? 0) > 0
    default:
      throw new Error(`unknown setting "${setting}" in the grammar: this is a fault of the grammar`)
  }
}

/** The whole number among the words from..to. */
function numberIn(all: readonly Word[], from: number, to: number): number | undefined {
  for (let i = from; i < to; i++) {
    const amount = readAmount(all, i)
    if (amount && amount.kind === 'integer') return amount.lo
  }
  return undefined
}
