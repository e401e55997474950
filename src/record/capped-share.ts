import type { Mention } from '../reading/mention.ts'
import { put } from './emit.ts'
import type { Value } from './schema.ts'
import type { Draft } from './state.ts'
import type { Turn } from './turn.ts'

/** Puts down a share of capped honey; of two in one breath ("ninety-five and ninety") one is of the first face, one of the other. */
export function cappedShare(
  turn: Turn,
  mention: Mention,
  value: Value,
  by: string,
  features: Record<string, number> = {},
  how: Draft['how'] = 'stated',
): Draft[] {
  const { state } = turn
  const previous = state.last[0]
  const pair =
    state.inHand &&
    previous &&
    previous.field === 'honey.cappedPercent' &&
    previous.turn === state.turn &&
    previous.frame === state.frame &&
    previous.side !== 'B' &&
    state.side === previous.side &&
    !state.bothSides &&
    onlyAnd(turn, mention, previous)
  if (pair) {
    for (const draft of state.last) draft.side = 'A'
    state.side = 'B'
  }
  const drafts = put(turn, 'honey.cappedPercent', value, by, { how, features })
  if (pair) for (const draft of drafts) draft.side = 'B'
  state.topic = 'honey'
  state.topicTurn = state.turn
  return drafts
}

/** Whether only "and" or a pause stands between a share given before and the number at hand. */
export function onlyAnd(turn: Turn, mention: Mention, previous: Draft): boolean {
  const all = turn.utterance.words
  for (let i = mention.from - 1; i >= 0; i--) {
    const word = all[i]!
    if (word.start < previous.evidence[0]!.end) return true
    if (!word.filler && word.norm !== 'and' && word.norm !== 'a') return false
  }
  return false
}

/** "How much is capped? Half.": a share may follow. */
export function askShare({ state }: Turn, mention: Mention, by: string): void {
  state.pending = {
    field: 'honey.cappedPercent',
    value: null,
    topic: 'honey',
    turn: state.turn,
    start: mention.start,
    end: mention.end,
    by,
  }
}
