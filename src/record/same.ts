import { type Meaning, type Mention, stands } from '../reading/mention.ts'
import { put } from './emit.ts'
import type { BoxPlace, Draft } from './state.ts'
import { amountOf, type Turn, tellsNow } from './turn.ts'

const OF_COMB = /^(honey\.cappedPercent|honey\.filledPercent|brood\.coverPercent|comb\.drawnPercent|frame\.holds)$/

/** "Same on the other side", "six, same again": what the last face or frame held, taken over to the one in hand. */
export function sameAgain(turn: Turn, mention: Mention, by: string): void {
  const { state } = turn
  if (!state.inHand || !tellsNow(mention) || spokenFor(turn)) return
  copyFace(turn, by, lastFace(turn))
}

/** "Five is like four", "eight and nine are the same as seven": what that frame held. */
export function sameAs(turn: Turn, mention: Mention, meaning: Meaning): void {
  const { state } = turn
  const like = amountOf(meaning)
  if (!state.inHand || !tellsNow(mention) || !like || like.lo === state.frame || stands(mention.standing, 'denied'))
    return
  const all = state.drafts.filter(
    (d) => d.hive === state.hive && d.frame === like.lo && !d.dead && OF_COMB.test(d.field) && sameBox(d, state.box),
  )
  // a frame of that number may have been told of in another box, long before
  const { turn: told = 0 } = all.at(-1) ?? {}
  const but = butNo(turn, mention)
  copyFace(
    turn,
    meaning.entry.id,
    all.filter((d) => told - d.turn <= 4 && !but.test(String(d.value))),
  )
}

/** "Same as four, but no drone": what is not taken over. */
function butNo({ utterance: { words } }: Turn, mention: Mention): RegExp {
  const at = words.findIndex(({ norm }, i) => i >= mention.to && /^(no|without|not)$/.test(norm))
  const thing = at < 0 ? undefined : words[at + 1]?.norm
  return thing === undefined ? /^$/ : new RegExp(`^${thing.replace(/\W/g, '')}`)
}

const sameBox = (draft: Draft, box: BoxPlace | null): boolean =>
  draft.box?.role === box?.role && (draft.box?.ordinal ?? 1) === (box?.ordinal ?? 1)

function copyFace(turn: Turn, by: string, source: readonly Draft[]): void {
  const { state } = turn
  const turned = state.side === null && new Set(source.map((d) => d.side)).size > 1
  for (const draft of source) {
    const side = turned ? { side: draft.side } : {}
    const drafts = put(turn, draft.field, draft.value, by, { how: 'carried', box: draft.box, ...side })
    for (const copy of drafts) copy.evidence.push(...draft.evidence)
    const present = /^(eggs|larvae|cappedBrood|droneBrood)$/.exec(String(draft.value))
    if (draft.field === 'frame.holds') state.lastContent = String(draft.value)
    if (draft.field === 'frame.holds' && present) put(turn, `${present[0]}.present`, 'yes', by, { how: 'derived' })
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
    // of the comb in hand the face that was told last; of another comb both
    const others =
      from && state.frame === from.frame && draft.side !== null && from.side !== null && draft.side !== from.side
    if (from && (draft.frame !== from.frame || others || draft.box?.role !== from.box?.role)) break
    from ??= draft
    out.unshift(draft)
  }
  return out
}
