import type { MaybeCall } from './calls.ts'
import { ofKindAndAny, type Weighed } from './follow.ts'
import type { WholeNote } from './names.ts'

const few = (n: number): string => (n >= 4 ? '4+' : String(n))

/** Weighs calls again and again while a note grows; a call of which the note tells the same as before is the same object. */
export interface Scales {
  /**
   * To each call what the whole note tells of it, with copies of all cues that do not depend on its kind. `calls` are all of
   * the note, or those behind what was counted `before`.
   */
  weigh(
    calls: readonly { readonly call: MaybeCall; readonly word: number }[],
    note: WholeNote,
    before?: Counts,
  ): readonly Weighed[]
}

/** What is counted of the calls of a note. */
export interface Counts {
  /** How often each label was said, and called by a line of the grammar. */
  readonly said: Map<string, number>
  readonly called: Map<string, number>
  lines: number
  /** Labels of phrases, spots and letters by each of their words. */
  readonly kin: Map<string, Set<string>>
  /** The rows of numbers that may go on. */
  readonly rows: Rows
}

export const newCounts = (): Counts => ({
  said: new Map(),
  called: new Map(),
  lines: 0,
  kin: new Map(),
  rows: new Map(),
})

/** Counts that go on counting for themselves. */
export const copyCounts = ({ said, called, lines, kin, rows }: Counts): Counts => ({
  said: new Map(said),
  called: new Map(called),
  lines,
  kin: new Map([...kin].map(([word, labels]) => [word, new Set(labels)])),
  rows: new Map(rows),
})

/** Counts the next calls of a note; the rows of numbers that lead up to each. */
export function count(counts: Counts, calls: readonly { readonly call: MaybeCall; readonly word: number }[]): Chain[] {
  const { said, called, kin } = counts
  for (const { call } of calls) {
    const label = call.labels.join('+')
    said.set(label, (said.get(label) ?? 0) + 1)
    if (call.kind === 'line') {
      counts.lines++
      called.set(label, (called.get(label) ?? 0) + 1)
    }
    if (!/^(phrase|spot|letter)$/.test(call.kind)) continue
    for (const word of kinWords(call.labels[0]!)) kin.set(word, (kin.get(word) ?? new Set()).add(call.labels[0]!))
  }
  return rowsOf(calls, 1, counts.rows)
}

/** `given` are labels of the yard file. */
export function createScales(given: ReadonlySet<string>): Scales {
  const known = new WeakMap<MaybeCall, { readonly key: string; readonly weighed: Weighed }>()
  return {
    weigh(calls, note, before = newCounts()) {
      const told = toldOf(calls, note, given, before)
      return calls.map(({ call, word }, i) => {
        const key = told[i]!.join()
        const earlier = known.get(call)
        if (earlier?.key === key) return earlier.weighed
        const weighed = { call, word, cues: ofKindAndAny(call.kind, [...call.cues, ...told[i]!]) }
        known.set(call, { key, weighed })
        return weighed
      })
    },
  }
}

/** For each call, what the whole note tells of it. */
function toldOf(
  calls: readonly { readonly call: MaybeCall; readonly word: number }[],
  { evidence, run, learned: names }: WholeNote,
  given: ReadonlySet<string>,
  before: Counts,
): string[][] {
  const learned = new Set(names)
  const counts = copyCounts(before)
  const chains = chainsOf(count(counts, calls), calls)
  const { said, called, lines } = counts
  const numbers = few(new Set(evidence.hiveNumbers).size)
  const frames = few(evidence.frameCalls.length)
  const walked = few(evidence.framesWalked)
  const namesKnown = few(learned.size)
  return calls.map(({ call }, i) => {
    const label = call.labels.join('+')
    const cues = ['is']
    const number = /\d$/.test(label)
    cues.push(
      `said ${few(said.get(label) ?? 0)}`,
      `called ${few(called.get(label) ?? 0)}`,
      `lines ${few(lines)}`,
      `numbers ${numbers}`,
      `names ${namesKnown}`,
    )
    if (number) {
      cues.push(
        `frames ${frames}`,
        `walked ${walked}`,
        run ? (run.calls.has(call.start) ? 'in run' : 'off run') : 'no run',
      )
      const chain = chains[i]!
      const long = chain.length >= 6 ? '6+' : chain.length >= 4 ? '4+' : String(chain.length)
      cues.push(`chain ${long}`, `chain ${long} frames ${frames}`, `chain ${long} numbers ${numbers}`)
      if (Number(/\d+$/.exec(label)![0]) >= 13) cues.push(`big chain ${long}`)
      if (chain.ofFrames) cues.push('frame goes on')
      if (evidence.hiveNumbers.includes(Number(/\d+$/.exec(label)![0]))) cues.push('number known')
      if (evidence.orderCalls > 0) cues.push(`ordered ${few(evidence.orderCalls)}`)
    } else {
      const { score = 0, worst = 0, best = 0 } = evidence.scores.get(label) ?? {}
      if (worst < 0) cues.push('person', best > 2 ? 'person called' : 'person only')
      cues.push(`best ${Math.round(best)}`)
      cues.push(`score ${Math.max(-2, Math.min(6, Math.round(score)))}`, `seen ${few(evidence.seen.get(label) ?? 0)}`)
      if (call.kind === 'phrase' || call.kind === 'spot' || call.kind === 'letter')
        cues.push(`kin ${few(kinOf(label, counts.kin))}`)
      if (/^(nuc|swarm|split)$/.test(label)) cues.push(call.inside ? 'kind inside' : 'kind')
      if (given.has(label)) cues.push('learned', call.inside ? 'given inside' : 'given')
      else if (learned.has(label)) cues.push('learned')
    }
    return cues
  })
}

const kinWords = (label: string): string[] => (label.length === 1 ? ['letter'] : label.split(' '))

/** How many other calls of the note are of the same make: share a word ("red door", "green door"), or are letters too. */
function kinOf(label: string, kin: Counts['kin']): number {
  const others = new Set(kinWords(label).flatMap((word) => [...(kin.get(word) ?? [])]))
  others.delete(label)
  return others.size
}

interface Chain {
  /** How many numbers in a row, each one more than the last, go through this one. */
  readonly length: number
  /** The row began with a frame that was called so: "frame three … four". */
  readonly ofFrames: boolean
}

/** Words that numbers of a row stand apart at least. */
const APART = 5
/** Words after which a walk over frames is hardly the same one. */
const WALK_LASTS = 150

/** The last number of each row, by what was counted and how far. */
type Rows = Map<string, Chain & { readonly word: number }>

/** For each call by number, the longest row of numbers that it could be part of; `up` are those that lead up to it. */
function chainsOf(
  up: readonly Chain[],
  calls: readonly { readonly call: MaybeCall; readonly word: number }[],
): Chain[] {
  const down = rowsOf([...calls].reverse(), -1, new Map()).reverse()
  return calls.map((_, i) => ({ length: up[i]!.length + down[i]!.length - 1, ofFrames: up[i]!.ofFrames }))
}

function rowsOf(
  calls: readonly { readonly call: MaybeCall; readonly word: number }[],
  step: 1 | -1,
  last: Rows,
): Chain[] {
  return calls.map(({ call, word }) => {
    const number = call.labels.length === 1 ? /^(nuc )?(\d+)$/.exec(call.labels[0]!) : null
    if (!number) return { length: 1, ofFrames: false }
    const isFrame = call.cues.some((cue) => /^b1 (frame|frames|comb|bar)$/.test(cue))
    const n = Number(number[2])
    const before = last.get(`${number[1] ?? ''}${n - step}`)
    const goesOn = before !== undefined && Math.abs(word - before.word) >= APART
    const ofFrames = isFrame || (before?.ofFrames === true && Math.abs(word - before.word) <= WALK_LASTS)
    const here = { length: goesOn && !isFrame ? before.length + 1 : 1, ofFrames, word }
    const known = last.get(`${number[1] ?? ''}${n}`)
    // a longer row to the same number holds, unless it was long ago
    if (!known || here.length >= known.length || here.ofFrames) last.set(`${number[1] ?? ''}${n}`, here)
    return here
  })
}
