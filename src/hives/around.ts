import { leading } from '../span.ts'
import { each, type Work } from './bit-by-bit.ts'
import type { MaybeCall } from './calls.ts'
import { sortOf } from './sorts.ts'
import { COMB_TALK, FRAME_TALK, type Topical } from './topics.ts'

interface Placed {
  readonly call: MaybeCall
  readonly word: number
}

/** Words around a call in which talk of combs is counted; behind it, in which a hive is spoken of. */
const NEAR = 25
const SOON = 12
/** So many kinds of things spoken of are talk of a hive. */
const TALK = 2

/** From here up it is all the same how many they are. */
export const MANY = 4
export const few = (n: number): string => (n >= MANY ? `${MANY}+` : String(n))

/**
 * For each call, what is spoken of around it and what other calls stand there: talk of single combs, labels of its sort near by,
 * and of what sort most labels are that stand where a hive is called with talk of a hive behind them.
 */
export function* aroundOf(calls: readonly Placed[], topics: readonly Topical[]): Work<string[][]> {
  const aheads = yield* each(calls, ({ word }) => kindsAhead(word, topics))
  const talk = new Map<string, number>()
  const sorts = new Map<string, number>()
  let total = 0
  calls.forEach(({ call }, i) => {
    if (!call.stands || aheads[i]! < TALK || call.labels.length !== 1) return
    const label = call.labels[0]!
    const times = (talk.get(label) ?? 0) + 1
    talk.set(label, times)
    if (times > 1) return
    total++
    sorts.set(sortOf(label), (sorts.get(sortOf(label)) ?? 0) + 1)
  })
  const length = topics.length < 8 ? 'little' : topics.length < 24 ? 'some' : 'much'
  const gapsBefore = gapsOf(calls)
  const gapsBehind = gapsOf([...calls].reverse()).reverse()
  return yield* each(calls, ({ call, word }, i) => {
    const label = call.labels.join('+')
    const ofSort = sorts.get(sortOf(label)) ?? 0
    const combs = [said(COMB_TALK, word - NEAR, word, topics), said(COMB_TALK, word, word + NEAR, topics)] as const
    const frames = [said(FRAME_TALK, word - NEAR, word, topics), said(FRAME_TALK, word, word + NEAR, topics)] as const
    const cues = [
      `talk ${few(talk.get(label) ?? 0)}`,
      `talk here ${Math.min(3, aheads[i]!)}${call.stands ? 's' : ''}`,
      `sort share ${total === 0 ? 'none' : Math.round((4 * ofSort) / total)}`,
      `sort size ${few(ofSort)}`,
      `sort rest ${few(total - ofSort)}`,
      `comb ${combs[0]} ${combs[1]}`,
      `comb around ${combs[0] + combs[1]}`,
      `frames ${frames[0]} ${frames[1]}`,
      `frames around ${frames[0] + frames[1]}`,
    ]
    cues.push(`of ${length}`)
    if (word < 4 && !call.inside)
      cues.push('begins', `begins ${/\d$/.test(label) ? 'number' : sortOf(label)} ${call.kind}`)
    if (/\d$/.test(label)) {
      const [before, behind] = [gapsBefore[i]!, gapsBehind[i]!]
      cues.push(`gap before ${before}`, `gap after ${behind}`, `gaps ${before} ${behind}`)
    }
    return cues
  })
}

/** The first topic at or behind a word. */
const from = (word: number, topics: readonly Topical[]): number => leading(topics, (topic) => topic.word < word)

/** Of how many kinds of things of a hive, single combs aside, is spoken soon. */
function kindsAhead(word: number, topics: readonly Topical[]): number {
  const kinds = new Set<number>()
  for (let i = from(word, topics); i < topics.length && topics[i]!.word < word + SOON; i++)
    if (topics[i]!.topic !== COMB_TALK) kinds.add(topics[i]!.topic)
  return kinds.size
}

/** How often something is spoken of between two words, up to three times. */
function said(topic: number, begin: number, end: number, topics: readonly Topical[]): number {
  let times = 0
  for (let i = from(begin, topics); i < topics.length && topics[i]!.word < end; i++)
    if (topics[i]!.topic === topic) times++
  return Math.min(3, times)
}

/** Whether talk of a hive, and not of its frames, follows at once. */
export const isTalkedOf = (word: number, topics: readonly Topical[]): boolean => {
  for (let i = from(word, topics); i < topics.length && topics[i]!.word < word + 8; i++)
    if (topics[i]!.topic !== COMB_TALK && topics[i]!.topic !== FRAME_TALK) return true
  return false
}

/** How far before each call another label of its sort stands where a hive is called. */
function gapsOf(calls: readonly Placed[]): string[] {
  const last = new Map<string, { readonly label: string; readonly word: number }[]>()
  return calls.map(({ call, word }) => {
    const label = call.labels.join('+')
    const sort = sortOf(label)
    const others = (last.get(sort) ?? []).filter((one) => one.label !== label)
    if (call.stands) last.set(sort, [{ label, word }, ...others].slice(0, 2))
    if (others.length === 0) return 'none'
    const gap = Math.abs(word - others[0]!.word)
    return gap < 4 ? '4' : gap < 10 ? '10' : gap < 25 ? '25' : gap < 80 ? '80' : 'far'
  })
}
