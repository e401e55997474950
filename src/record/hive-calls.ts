import type { HiveCall } from '../hives/follower.ts'
import { comesBack } from './features.ts'
import { openHives } from './open-hive.ts'
import type { State } from './state.ts'
import type { Turn } from './turn.ts'

const isAlike = (a: HiveCall, b: HiveCall): boolean =>
  a.start === b.start && a.end === b.end && a.kind === b.kind && a.labels.join() === b.labels.join()

/** Whether the calls that a state has reached are the same among `calls`. */
export function sameCalls(state: State, calls: readonly HiveCall[]): boolean {
  let i = 0
  let j = 0
  for (;;) {
    while (i < state.nextCall && !state.calls[i]!.taken) i++
    while (calls[j] && calls[j]!.start < state.callsTo && !calls[j]!.taken) j++
    const a = i < state.nextCall ? state.calls[i] : undefined
    const b = calls[j] && calls[j]!.start < state.callsTo ? calls[j] : undefined
    if (!a || !b) return a === b
    if (a !== b && !isAlike(a, b)) return false
    i++
    j++
  }
}

/** Goes on with other calls, from the place that was reached. */
export function takeCalls(state: State, calls: readonly HiveCall[]): void {
  state.calls = calls
  state.nextCall = calls.findIndex(({ start }) => start >= state.callsTo)
  if (state.nextCall < 0) state.nextCall = calls.length
}

/** The next call that was not reached, if it stands before `upTo`: it is reached now. */
function nextBefore(state: State, upTo: number): HiveCall | undefined {
  const call = state.calls[state.nextCall]
  if (!call || call.start >= upTo) return undefined
  state.nextCall++
  state.callsTo = call.start + 1
  return call
}

/**
 * Goes to the hives that are called before `upTo` (an offset in the source) and were not gone to by a place phrase. Calls
 * are reached once each, in order.
 */
export function reachCalls(turn: Turn, upTo: number): void {
  for (let call = nextBefore(turn.state, upTo); call; call = nextBefore(turn.state, upTo))
    if (call.taken) goToCall(turn, call)
}

/** The call that some words are, if they are one; what might have been one in them is done with. */
export function callOver(turn: Turn, { start, end }: { start: number; end: number }): HiveCall | null {
  const { state } = turn
  reachCalls(turn, start)
  let taken: HiveCall | null = null
  for (let call = nextBefore(state, end); call; call = nextBefore(state, end)) if (call.taken) taken = call
  if (taken) state.callAt = taken.start
  return taken
}

function goToCall(turn: Turn, call: HiveCall): void {
  const { state } = turn
  state.callAt = call.start
  state.hiveSaid = {
    turn: state.turn,
    at: call.start,
    by: call.kind === 'bare' ? 'Number' : /\d/.test(call.labels[0]!) ? 'Word' : 'Name',
    back: comesBack(state, call.labels),
    repair: repairIn(turn, call),
  }
  const goesOn = call.labels.length === 1 && call.labels[0] === state.hive && state.named && state.group.length === 0
  if (!goesOn) {
    openHives(state, call.labels)
    turn.localHives = null
  }
  state.calledBy ??= call.kind === 'bare' ? 'bare' : /\d/.test(call.labels[0]!) ? 'hive' : 'name'
  turn.draftsAtPlace = state.drafts.length
  turn.marks.push({
    start: call.start,
    end: call.end,
    kind: 'place',
    standing: 'affirmed',
    drafts: [],
    place: { hive: state.hive, box: null, frame: null, side: null, at: turn.utterance.at },
  })
}

/** How far repairs had to reach for the words of a call. */
const repairIn = ({ utterance }: Turn, { start, end }: HiveCall): number =>
  utterance.words.reduce((sum, word) => (word.start >= start && word.end <= end ? sum + word.cost : sum), 0)
