import type { Line } from '../grammar/line.ts'
import type { Mention } from '../reading/mention.ts'
import { memoryOf, type State } from './state.ts'
import { beginsClause, endsClause, standsAlone, type Turn } from './turn.ts'

/** Whether the words of a grammar line can mean that here: one of its `when` settings and none of its `never`. */
export function holds(line: Line, turn: Turn, mention: Mention): boolean {
  if (line.never?.some((setting) => setHere(setting, turn, mention))) return false
  return line.when === undefined || line.when.some((setting) => setting.split('+').every((part) => setHere(part, turn, mention)))
}

/** How many utterances a topic lasts. */
const TOPIC_LASTS = 3

export const topicOf = (state: State): string | null => (state.topic !== null && state.turn - state.topicTurn <= TOPIC_LASTS ? state.topic : null)

/** In a box of honey: a super, or a frame walk in a hive whose supers are being gone through. */
export const inSuper = (state: State): boolean => state.box?.role === 'super'

function setHere(setting: string, turn: Turn, mention: Mention): boolean {
  const { state } = turn
  if (setting.startsWith('topic:')) return topicOf(state) === setting.slice(6)
  if (setting.startsWith('asked:')) return state.pending?.topic === setting.slice(6) && turn.state.turn - state.pending.turn <= 3
  if (setting.startsWith('content:')) return state.lastContent === setting.slice(8) && state.turn - state.contentTurn <= 2
  switch (setting) {
    case 'super':
      return inSuper(state)
    case 'brood':
      return state.box?.role === 'brood'
    case 'notsuper':
      return !inSuper(state)
    case 'frame':
      return state.inHand
    case 'noframe':
      return !state.inHand
    case 'start':
      return beginsClause(turn, mention)
    case 'end':
      return endsClause(turn, mention)
    case 'alone':
      return standsAlone(turn, mention)
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
    case 'hives':
      return state.walk === 'hives'
    case 'hassupers':
      return (memoryOf(state, state.hive).supers ?? 0) > 0
    default:
      throw new Error(`unknown setting "${setting}" in the grammar: this is a fault of the grammar`)
  }
}
