import type { Mention } from '../reading/mention.ts'
import { put } from './emit.ts'
import type { Draft } from './state.ts'
import { type Turn, tellsNow } from './turn.ts'

const OF_COMB = /^(honey\.cappedPercent|honey\.filledPercent|brood\.coverPercent|comb\.drawnPercent|frame\.holds)$/

/** "Same on the other side", "six, same again": what the last face or frame held, taken over to the one in hand. */
export function sameAgain(turn: Turn, mention: Mention, by: string): void {
  const { state } = turn
  if (!state.inHand || !tellsNow(mention) || spokenFor(turn)) return
  const source = lastFace(turn)
  if (source.length === 0) return
  for (const draft of source) {
    const drafts = put(turn, draft.field, draft.value, by, { how: 'carried', box: draft.box })
    for (const copy of drafts) copy.evidence.push(...draft.evidence)
    if (draft.field === 'frame.holds') state.lastContent = String(draft.value)
  }
}

/** Something was said of the face in hand already: "same" is about something else. */
function spokenFor({ state }: Turn): boolean {
  return state.drafts
    .slice(-20)
    .some(
      (d) =>
        d.hive === state.hive &&
        !d.dead &&
        d.frame === state.frame &&
        d.side === state.side &&
        d.box?.role === state.box?.role &&
        OF_COMB.test(d.field) &&
        state.frames.length === 0 &&
        state.frame !== null,
    )
}

/** The comb readings of the face or frame spoken of just before the one in hand. */
function lastFace(turn: Turn): Draft[] {
  const { state } = turn
  const here = (draft: Draft): boolean => draft.frame === state.frame && draft.side === state.side
  const out: Draft[] = []
  let from: Draft | undefined
  for (let i = state.drafts.length - 1; i >= 0 && i >= state.drafts.length - 60; i--) {
    const draft = state.drafts[i]!
    if (draft.hive !== state.hive) break
    if (
      draft.dead ||
      !OF_COMB.test(draft.field) ||
      (draft.frame === null && from === undefined && state.frame !== null) ||
      here(draft)
    )
      continue
    const others = from && draft.side !== null && from.side !== null && draft.side !== from.side
    if (from && (draft.frame !== from.frame || others || draft.box?.role !== from.box?.role)) break
    from ??= draft
    out.unshift(draft)
  }
  return out
}
