import type { Utterance } from '../language/word.ts'
import { changedHives, kept } from './checkpoint.ts'
import { touchedHives } from './glance.ts'
import type { State } from './state.ts'
import type { Mark } from './turn.ts'

/** One way through the utterances of a note, begun with what the note showed as a whole at that time. */
export interface Pass {
  readonly state: State
  readonly marks: Mark[]
}

export interface FoldingHow<P extends Pass> {
  /** A pass that nothing was folded into, with what the note shows as a whole now. */
  begin(): P
  /** Folds one utterance into a pass. */
  fold(pass: P, utterance: Utterance): void
  /** Whether what was folded into a pass so far would come out the same in a fresh one. */
  same(pass: P, fresh: P): boolean
  /** A pass with what the whole note shows now; what was concluded in it stays. */
  renewed(pass: P, fresh: P): P
  /**
   * The readings of these hives may have changed. With `may`, the last few utterances changed exactly these, and perhaps bear on
   * those. Without any, all may have, because the note was folded anew.
   */
  touched(hives?: Iterable<string>, may?: Iterable<string>): void
}

/**
 * Folds a note that is still being spoken. When words show late what counts for all of it ("Cedar" is a hive), the note has
 * to be folded anew. Whoever cannot wait goes back a few utterances, which gets the hive in hand right, and folds the
 * whole anew in slices while nobody speaks.
 */
export interface Folding<P extends Pass> {
  hear(utterance: Utterance): void
  /** Everything folded with what the whole note shows. The cost may be that of the note. */
  whole(): P
  /** Good for the hive in hand. The cost is that of a few utterances. */
  quick(): P
  /** Folds anew what has to be, for about so many milliseconds; true when `quick` is as good as `whole`. */
  catchUp(ms: number): boolean
  /** Keeps what is there now, so that `rewind` can come back to it, once. */
  mark(): void
  rewind(): void
}

/** So many utterances a name learned late reaches back at once. */
const AT_ONCE = 5

/** A pass as it stood when so many utterances were folded into it. */
interface Stand<P> {
  readonly pass: P
  readonly folded: number
}

export function createFolding<P extends Pass>({ begin, fold, same, renewed, touched }: FoldingHow<P>): Folding<P> {
  const heard: Utterance[] = []
  let pass = begin()
  let folded = 0
  /** The pass is what folding the whole note anew would give. */
  let isWhole = true
  /** Where it stood before each of the last utterances, oldest first. */
  let steps: Stand<P>[] = []
  let anew: { readonly pass: P; folded: number } | null = null
  let marked: (Stand<P> & { readonly isWhole: boolean }) | null = null

  const copy = (one: P): P => ({ ...one, state: kept(one.state), marks: [...one.marks] })
  const forward = (): void => {
    while (folded < heard.length) {
      const late = heard.length - folded <= AT_ONCE
      const before = late ? copy(pass) : null
      if (before) {
        steps.push({ pass: before, folded })
        if (steps.length > AT_ONCE) steps.shift()
      }
      const count = pass.state.drafts.length
      const utterance = heard[folded++]!
      fold(pass, utterance)
      const may = touchedHives(pass.state, count, utterance.start)
      if (before) touched(changedHives(before.state, pass.state), may)
      else touched(may)
    }
  }
  const take = (next: P, upTo: number): void => {
    pass = next
    folded = upTo
    steps = []
    anew = null
    isWhole = true
    touched()
  }
  const goBack = (to: Stand<P>): void => {
    const may = touchedHives(pass.state, to.pass.state.drafts.length, heard[to.folded]?.start ?? 0)
    touched(changedHives(to.pass.state, pass.state), may)
    pass = copy(to.pass)
    folded = to.folded
  }
  /** The pass that is being folded anew, begun again if the whole note shows something else by now. */
  const anewWith = (fresh: P): { readonly pass: P; folded: number } => {
    anew =
      anew && same(anew.pass, fresh)
        ? { pass: renewed(anew.pass, fresh), folded: anew.folded }
        : { pass: fresh, folded: 0 }
    return anew
  }

  const quick = (): P => {
    const fresh = begin()
    if (same(pass, fresh)) pass = renewed(pass, fresh)
    else {
      const step = steps[0]
      // a note that is hardly longer than what is gone back is folded anew at once
      if (!step || step.folded === 0 || heard.length <= AT_ONCE * 2) take(fresh, 0)
      else {
        goBack(step)
        pass = renewed(pass, fresh)
        steps = []
        isWhole = false
      }
    }
    forward()
    return pass
  }

  return {
    hear: (utterance) => void heard.push(utterance),
    whole() {
      const fresh = begin()
      if (isWhole && same(pass, fresh)) pass = renewed(pass, fresh)
      else {
        const next = anewWith(fresh)
        take(next.pass, next.folded)
      }
      forward()
      return pass
    },
    quick,
    catchUp(ms) {
      const fresh = begin()
      if (isWhole && folded === heard.length && same(pass, fresh)) return true
      const until = performance.now() + ms
      const next = anewWith(fresh)
      while (next.folded < heard.length) {
        fold(next.pass, heard[next.folded++]!)
        if (performance.now() >= until) return false
      }
      take(next.pass, next.folded)
      return true
    },
    mark() {
      quick()
      marked = { pass: copy(pass), folded, isWhole }
    },
    rewind() {
      if (!marked) return
      goBack(marked)
      isWhole = marked.isWhole
      heard.length = marked.folded
      steps = []
      if (anew && anew.folded > heard.length) anew = null
      marked = null
    },
  }
}
