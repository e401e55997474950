import { type Meaning, type Mention, stands } from '../reading/mention.ts'
import { emitCount } from './content.ts'
import { put } from './emit.ts'
import { topicNumber } from './number-answers.ts'
import { leaveFrame } from './open-hive.ts'
import { inSuper } from './setting.ts'
import { amountOf, amountValue, blockedBy, clauseHas, type Turn } from './turn.ts'

const CONTENT_OF: Readonly<Record<string, string>> = {
  stores: 'honey',
  honey: 'honey',
  brood: 'brood',
  bees: 'bees',
  nectar: 'nectar',
  pollen: 'pollen',
  foundation: 'foundation',
  comb: 'drawn',
}

const HANDLED = new Set([
  'took',
  'take',
  'taken',
  'taking',
  'pulled',
  'pull',
  'gave',
  'give',
  'put',
  'add',
  'added',
  'swapped',
  'moved',
  'move',
  'robbed',
  'need',
  'needs',
  'want',
  'wants',
  'spare',
  'off',
  'removed',
  'cut',
  'order',
  'bought',
  'were',
  'was',
  'had',
])

/** "Capped brood? Half a frame, maybe." Frames of what was spoken of last. */
export function framesOf(turn: Turn, mention: Mention, meaning: Meaning): void {
  const { state } = turn
  const amount = amountOf(meaning)
  if (
    !amount ||
    state.inHand ||
    amount.lo > 40 ||
    blockedBy(mention) ||
    clauseHas(turn, mention, HANDLED) ||
    topicNumber(turn, mention, amount, meaning.entry.id)
  )
    return
  const content = spokenOf(turn)
  if (!content || stands(mention.standing, 'question')) return
  for (const draft of emitCount(turn, mention, content, amount, meaning.entry.id)) {
    draft.how = 'carried'
    draft.features.weak = 0.2
  }
}

/** What frames were counted of just now: what was asked for, or whichever of content and topic came up last. */
function spokenOf({ state }: Turn): string | undefined {
  const { pending } = state
  if (pending?.field?.startsWith('content:') && state.turn - pending.turn <= 1) return pending.field.slice(8)
  const content = state.turn - state.contentTurn <= 1 ? (state.lastContent ?? undefined) : undefined
  const topic = state.topic && state.turn - state.topicTurn <= (content ? 1 : 3) ? CONTENT_OF[state.topic] : undefined
  return topic && (!content || state.topicTurn > state.contentTurn) ? topic : content
}

/** "So five down here", "eleven all told": the frames of brood of a box or a hive, summed up. */
export function boxTotal(turn: Turn, mention: Mention, meaning: Meaning): void {
  const { state } = turn
  const amount = amountOf(meaning)
  if (!amount || amount.percent || amount.hi > 24 || inSuper(state) || blockedBy(mention)) return
  const counted = state.drafts
    .slice(-40)
    .filter(
      (d) =>
        d.hive === state.hive &&
        !d.dead &&
        (/^frames\.(brood|bees|cappedBrood)/.test(d.field) ||
          (d.field === 'frame.holds' && /brood|larvae|eggs/i.test(String(d.value)))),
    )
  const field =
    counted.findLast((d) => /^frames\./.test(d.field))?.field ?? (counted.length > 0 ? 'frames.brood' : undefined)
  if (field === undefined) return
  for (const draft of put(turn, field, amountValue(amount), meaning.entry.id, {
    frame: null,
    ...(meaning.entry.line.note === 'hive' ? { box: null } : {}),
  }))
    draft.features.weak = 0.1
  leaveFrame(state)
}
