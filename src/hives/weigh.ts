import type { MaybeCall } from './calls.ts'
import { ofKindAndAny, type Weighed } from './follow.ts'
import type { WholeNote } from './names.ts'

const few = (n: number): string => (n >= 4 ? '4+' : String(n))

/** Weighs calls again and again while a note grows; a call of which the note tells the same as before is the same object. */
export interface Scales {
  /** To each call what the whole note tells of it, with copies of all cues that do not depend on its kind. */
  weigh(calls: readonly { readonly call: MaybeCall; readonly word: number }[], note: WholeNote): readonly Weighed[]
}

/** `given` are labels of the yard file. */
export function createScales(given: ReadonlySet<string>): Scales {
  const known = new WeakMap<MaybeCall, { readonly key: string; readonly weighed: Weighed }>()
  return {
    weigh(calls, note) {
      const told = toldOf(calls, note, given)
      return calls.map(({ call, word }, i) => {
        const key = told[i]!.join()
        const before = known.get(call)
        if (before?.key === key) return before.weighed
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
): string[][] {
  const learned = new Set(names)
  const said = new Map<string, number>()
  const called = new Map<string, number>()
  let lines = 0
  for (const { call } of calls) {
    const label = call.labels.join('+')
    said.set(label, (said.get(label) ?? 0) + 1)
    if (call.kind === 'line') {
      lines++
      called.set(label, (called.get(label) ?? 0) + 1)
    }
  }
  const numbers = few(new Set(evidence.hiveNumbers).size)
  const frames = few(evidence.frameCalls.length)
  const walked = few(evidence.framesWalked)
  const namesKnown = few(learned.size)
  const chains = chainsOf(calls)
  const kin = kinOf(calls)
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
        cues.push(`kin ${few(kin.get(label) ?? 0)}`)
      if (/^(nuc|swarm|split)$/.test(label)) cues.push(call.inside ? 'kind inside' : 'kind')
      if (given.has(label)) cues.push('learned', call.inside ? 'given inside' : 'given')
      else if (learned.has(label)) cues.push('learned')
    }
    return cues
  })
}

/** How many other calls of the note are of the same make: share a word ("red door", "green door"), or are letters too. */
function kinOf(calls: readonly { readonly call: MaybeCall }[]): Map<string, number> {
  const labels = [
    ...new Set(calls.filter(({ call }) => /^(phrase|spot|letter)$/.test(call.kind)).map(({ call }) => call.labels[0]!)),
  ]
  const words = (label: string): string[] => (label.length === 1 ? ['letter'] : label.split(' '))
  return new Map(
    labels.map((label) => [
      label,
      labels.filter((other) => other !== label && words(other).some((w) => words(label).includes(w))).length,
    ]),
  )
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

/** For each call by number, the longest row of numbers that it could be part of. */
function chainsOf(calls: readonly { readonly call: MaybeCall; readonly word: number }[]): Chain[] {
  const numbers = calls.map(({ call }) => (call.labels.length === 1 ? /^(nuc )?(\d+)$/.exec(call.labels[0]!) : null))
  const frame = calls.map(({ call }) => call.cues.some((cue) => /^b1 (frame|frames|comb|bar)$/.test(cue)))
  const up = rowsOf(calls, numbers, 1, frame)
  const down = rowsOf([...calls].reverse(), [...numbers].reverse(), -1, [...frame].reverse()).reverse()
  return calls.map((_, i) => ({ length: up[i]!.length + down[i]!.length - 1, ofFrames: up[i]!.ofFrames }))
}

function rowsOf(
  calls: readonly { readonly call: MaybeCall; readonly word: number }[],
  numbers: readonly (RegExpExecArray | null)[],
  step: 1 | -1,
  frame: readonly boolean[],
): Chain[] {
  const last = new Map<string, Chain & { word: number }>()
  return calls.map(({ word }, i) => {
    const number = numbers[i]
    if (!number) return { length: 1, ofFrames: false }
    const n = Number(number[2])
    const before = last.get(`${number[1] ?? ''}${n - step}`)
    const goesOn = before !== undefined && Math.abs(word - before.word) >= APART
    const ofFrames = frame[i]! || (before?.ofFrames === true && Math.abs(word - before.word) <= WALK_LASTS)
    const here = { length: goesOn && !frame[i] ? before.length + 1 : 1, ofFrames, word }
    const known = last.get(`${number[1] ?? ''}${n}`)
    // a longer row to the same number holds, unless it was long ago
    if (!known || here.length >= known.length || here.ofFrames) last.set(`${number[1] ?? ''}${n}`, here)
    return here
  })
}
