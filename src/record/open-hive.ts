import type { State } from './state.ts'

/** Counts a hive among those of the visit. */
export function known(state: State, label: string): void {
  if (!state.hives.includes(label)) state.hives.push(label)
}

/** Goes to a hive: what was in hand is put down. */
function openHive(state: State, label: string): void {
  if (state.named && state.hive !== label) state.lastHive = state.hive
  state.hive = label
  state.framesCalled = 0
  state.called = []
  state.superSaid = null
  state.verdict = null
  state.group = []
  state.named = true
  known(state, label)
  state.walk = /\d/.test(label) ? 'hives' : state.walk === 'frames' ? null : state.walk
  state.box = null
  leaveFrame(state)
  state.topic = null
  state.pending = null
  state.lastContent = null
}

/** Goes to one hive or to several together: what was in hand is put down. */
export function openHives(state: State, labels: readonly string[]): void {
  openHive(state, labels[0]!)
  state.group = labels.length > 1 ? [...labels] : []
  for (const label of labels) known(state, label)
}

export function leaveFrame(state: State): void {
  state.frame = null
  state.frames = []
  state.inHand = false
  state.side = null
  state.bothSides = false
  if (state.walk === 'frames') state.walk = null
}
