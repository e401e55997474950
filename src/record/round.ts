import type { Amount } from '../language/amounts.ts'
import { type Meaning, type Mention, stands } from '../reading/mention.ts'
import { put } from './emit.ts'
import { topicOf } from './setting.ts'
import type { Draft } from './state.ts'
import { amountOf, amountValue, blockedBy, clauseHas, type Turn, tellsNow, termOf } from './turn.ts'

/** "Oxalic today": what hives are treated with, for the doses that follow. */
export function noteMed({ state }: Turn, mention: Mention, meaning: Meaning): void {
  const med = termOf(meaning, 'dmed') ?? state.round.med ?? 'oxalicAcid'
  if (!stands(mention.standing, 'denied') && blockedBy(mention) !== 'earlier') state.round = { ...state.round, med }
}

const NO_FEED = new Set(
  'honey oil water bees paint petrol capacity holds hold took takes buy order bring made mixed'.split(' '),
)
const FEEDS = new Set('feeder feed fed feeding syrup sugar topped filled refilled poured pour'.split(' '))

/** "30 ml", "two litres": a dose of what is given today, where that was said before. */
export function dose(turn: Turn, mention: Mention, meaning: Meaning): void {
  const { state } = turn
  const by = meaning.entry.id
  const amount = amountOf(meaning)
  const value = amount ? amountValue(amount) : 1
  if (!tellsNow(mention) || stands(mention.standing, 'denied')) return
  const kindOf = meaning.entry.line.note === 'treat' ? 'treat' : 'feed'
  const kind = kindOf === 'treat' ? (state.lastKind.treat ?? state.round.med) : state.lastKind.feed
  if (kindOf === 'treat' && !kind) return
  if (kindOf === 'feed') {
    if (clauseHas(turn, mention, NO_FEED)) return
    if (!kind && !state.given.has('did.feed') && !turn.utterance.words.some(({ norm }) => FEEDS.has(norm))) return
  }
  put(turn, `did.${kindOf}`, value, by, { how: 'carried', features: { weak: 0.2 } })
  if (kind) put(turn, `did.${kindOf}.kind`, kind, by, { how: 'carried', features: { weak: 0.2 } })
}

/** Where no mites are counted that were washed off. */
const ELSEWHERE = new Set('board drop dropped drawer tray fell day pupa pupae drone drones larva'.split(' '))

/** Mites counted at a hive where nobody said how: as at the hive before. */
export function countedAs(turn: Turn, mention: Mention, by: string): void {
  const { state } = turn
  const { method, bees } = state.round
  if (method === null || state.hive === '' || clauseHas(turn, mention, ELSEWHERE)) return
  const told = state.drafts.filter((d) => d.hive === state.hive && d.field.startsWith('mites.') && d.dead === null)
  if (told.some((d) => /^mites\.(days|dropPerDay)$/.test(d.field))) return
  const own = told.findLast((d) => d.field === 'mites.method')
  const how = { how: 'carried', features: { weak: 0.2 } } as const
  const { last } = state
  if (!own) put(turn, 'mites.method', method, by, how)
  if (Number(bees ?? 0) >= 150 && !told.some((d) => d.field === 'mites.sampleBees'))
    put(turn, 'mites.sampleBees', bees!, by, how)
  state.last = last
}

/** "Hive two. Six.": where mites are counted at every hive, a number right behind its call is theirs. */
export function roundNumber(turn: Turn, mention: Mention, amount: Amount, by: string): boolean {
  const { state } = turn
  const { method } = state.round
  const whole = amount.kind === 'integer' && !amount.percent && amount.lo < 100 && amount.hi === amount.lo
  if (method === null || !whole || state.inHand || !allButSmall(turn, mention)) return false
  const called = state.hiveSaid !== null && state.turn - state.hiveSaid.turn <= 2
  const again = state.last[0]?.field === 'mites.count' && state.turn - state.last[0].turn <= 4
  if (!(called || again || topicOf(state) === 'mites.sample') || counted(turn)) return false
  const how = { how: 'carried', features: { weak: 0.2 } } as const
  const out: Draft[] = put(turn, 'mites.count', amountValue(amount), by, how)
  countedAs(turn, mention, by)
  state.last = out
  return true
}

/** Whether a number is all that the words say, but for what goes with any. */
const allButSmall = ({ utterance: { words } }: Turn, mention: Mention): boolean =>
  words.every((word, i) => (i >= mention.from && i < mention.to) || word.filler || SMALL.test(word.norm))
const SMALL =
  /^(only|just|exactly|okay|so|and|then|is|'s|that|it|there|are|i|get|got|have|count|make|call|the|oh|hm|of|them)$/

/** Whether something was counted at the hive in hand since it was called. */
const counted = ({ state }: Turn): boolean =>
  state.drafts
    .slice(-12)
    .some(
      (d) =>
        d.hive === state.hive &&
        d.turn >= (state.hiveSaid?.turn ?? 0) &&
        typeof d.value === 'number' &&
        d.field !== 'mites.sampleBees' &&
        !(d.field === 'mites.count' && state.turn - d.turn <= 4),
    )
