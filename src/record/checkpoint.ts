import type { Draft, State } from './state.ts'

/** How many of the last drafts are kept as they were; `acts.ts` and `emit.ts` look back over twelve, `same.ts` only reads. */
const LAST = 16
/** Utterances over which later words may change what was read (`place.ts`: the first face of a frame, eight back). */
const TURNS = 9

/**
 * A state as it is now, that hearing more does not change: hearing works on the state in place, but of the drafts only the
 * latest are still written to, and only those are copied.
 */
export function kept(state: State): State {
  const { drafts } = state
  let from = Math.max(0, drafts.length - LAST)
  while (from > 0 && (drafts[from - 1]!.turn >= state.turn - TURNS || drafts[from - 1]!.hive === state.hive)) from--
  return copied(state, from)
}

/** The same where nothing was heard since it was kept as `before`: what was copied then is as good now. */
export function keptAgain(state: State, before: State): State {
  const { hives, group, frames, memory, given, lastKind, drafts, last } = before
  return { ...state, hives, group, frames, memory, given, lastKind, drafts, last }
}

/** A state with its own collections, and its own copies of the drafts from `from` on. */
function copied(state: State, from: number): State {
  const copies = new Map<Draft, Draft>()
  const own = (draft: Draft): Draft => {
    const known = copies.get(draft)
    if (known) return known
    const copy = {
      ...draft,
      evidence: [...draft.evidence],
      alternatives: [...draft.alternatives],
    }
    copies.set(draft, copy)
    return copy
  }
  return {
    ...state,
    hives: [...state.hives],
    group: [...state.group],
    frames: [...state.frames],
    memory: new Map([...state.memory].map(([hive, memory]) => [hive, { ...memory }])),
    given: new Set(state.given),
    lastKind: { ...state.lastKind },
    drafts: [...state.drafts.slice(0, from), ...state.drafts.slice(from).map(own)],
    last: state.last.map(own),
  }
}

/** The hives whose drafts differ between a state that was kept and what it has become. */
export function changedHives(before: State, now: State): Set<string> {
  const out = new Set<string>()
  for (let i = Math.max(before.drafts.length, now.drafts.length) - 1; i >= 0; i--) {
    const [then, draft] = [before.drafts[i], now.drafts[i]]
    // further back they are the same objects
    if (then === draft) break
    if (then && draft && isAlike(then, draft)) continue
    if (then) out.add(then.hive)
    if (draft) out.add(draft.hive)
  }
  return out
}

const isAlike = (a: Draft, b: Draft): boolean =>
  a.field === b.field &&
  a.value === b.value &&
  a.hive === b.hive &&
  a.box === b.box &&
  a.frame === b.frame &&
  a.side === b.side &&
  a.dead === b.dead &&
  a.evidence.length === b.evidence.length &&
  a.evidence[0]!.start === b.evidence[0]!.start
