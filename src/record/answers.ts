import { Break } from '../language/word.ts'
import type { Mention } from '../reading/mention.ts'
import { emitContent } from './content.ts'
import { put } from './emit.ts'
import { fieldInfo } from './fields.ts'
import type { Pending } from './state.ts'
import { beginsClause, type Turn, tellsNow } from './turn.ts'

/** How many utterances a question waits for its answer. */
const WAITS = 4

function open(turn: Turn, mention: Mention): Pending | null {
  const { pending } = turn.state
  if (!pending?.field || turn.state.turn - pending.turn > WAITS) return null
  if (!tellsNow(mention)) return null
  return beginsClause(turn, mention) ? pending : null
}

/** "Yep": what was asked about is so. */
export function answerYes(turn: Turn, mention: Mention, by: string): void {
  const pending = open(turn, mention)
  if (!pending || pending.value === null) return
  const drafts = pending.field!.startsWith('content:')
    ? emitContent(turn, mention, pending.field!.slice(8), by)
    : put(turn, pending.field!, pending.value, by, { how: 'carried' })
  for (const { field, value } of pending.also ?? []) drafts.push(...put(turn, field, value, by, { how: 'carried' }))
  for (const draft of drafts) draft.evidence.unshift({ start: pending.start, end: pending.end, by: pending.by })
  turn.state.pending = null
}

const NONE: Record<string, string> = { level: 'none' }

/** "Nope": what was asked about is not so. */
export function answerNo(turn: Turn, mention: Mention, by: string): void {
  const pending = open(turn, mention)
  if (!pending || deniesNext(turn, mention)) return
  const { state } = turn
  state.pending = null
  // "is that a queen cell? no": that one is none, there may be others
  if (pending.pointing) return
  // "any swarm cells? no": the kind falls with the thing
  const field =
    (pending.field!.endsWith('.kind') && pending.also?.find((a) => a.field.endsWith('.present'))?.field) ||
    pending.field!
  let drafts: ReturnType<typeof put> = []
  if (field.startsWith('content:')) {
    const content = field.slice(8)
    const present: Record<string, string[]> = {
      eggs: ['eggs.present'],
      larvae: ['larvae.present'],
      cappedBrood: ['cappedBrood.present'],
      droneBrood: ['droneBrood.present'],
      brood: ['larvae.present', 'cappedBrood.present'],
    }
    if (!(state.inHand && state.walk === 'frames'))
      for (const f of present[content] ?? []) drafts.push(...put(turn, f, 'no', by, { how: 'carried' }))
  } else {
    const pest = /^pest\.(\w+)\.(level|count|present)$/.exec(field)
    if (pest) drafts = put(turn, `pest.${pest[1]}.level`, NONE.level!, by, { how: 'carried' })
    else if (fieldInfo(field)?.type === 'yesNo')
      drafts = put(turn, field, pending.value === 'no' ? 'no' : 'no', by, { how: 'carried' })
    else if (field === 'queenCells.count') drafts = put(turn, 'queenCells.present', 'no', by, { how: 'carried' })
    else if (field === 'queenCups.count') drafts = put(turn, 'queenCups.present', 'no', by, { how: 'carried' })
  }
  for (const draft of drafts) draft.evidence.unshift({ start: pending.start, end: pending.end, by: pending.by })
}

/** "See her? … no eggs": a "no" that belongs to the words behind it answers nothing. */
function deniesNext(turn: Turn, mention: Mention): boolean {
  const next = turn.mentions[turn.index + 1]
  return (
    next !== undefined &&
    next.from === mention.to &&
    turn.utterance.words[next.from]!.brk === Break.none &&
    next.standing.some((cue) => cue.kind === 'denied' && cue.at[0] === mention.from)
  )
}
