import type { Utterance } from '../language/word.ts'
import { leading } from '../span.ts'
import { changedHives, kept, keptAgain } from './checkpoint.ts'
import { touchedHives } from './glance.ts'
import type { State } from './state.ts'
import type { Mark } from './turn.ts'

/** One way through the utterances of a note, begun with what the note showed as a whole at that time. */
export interface Pass {
  readonly state: State
  readonly marks: Mark[]
}

export interface FoldingHow<P extends Pass> {
  /**
   * A pass that nothing was folded into, with what the note shows as a whole now. `late`: for whoever cannot wait; of what was
   * said long ago it shows what it did when a pass was `whole` last. With `ms` the whole is looked at for about so many
   * milliseconds; null as long as something is left to do.
   */
  begin(how: 'whole' | 'late'): P
  begin(how: 'whole', ms: number): P | null
  /** Folds one utterance into a pass. */
  fold(pass: P, utterance: Utterance): void
  /** Whether the first `folded` utterances, which were folded into a pass, would come out the same in a fresh one. */
  same(pass: P, fresh: P, folded: number): boolean
  /** A pass with what the whole note shows now; what was concluded in it stays. */
  renewed(pass: P, fresh: P): P
  /** The whole note is folded into a pass, with what it shows as a whole. */
  whole(pass: P): void
  /**
   * The readings or remarks of these hives may have changed. With `may`, the last few utterances changed exactly these, and perhaps bear on
   * those.
   */
  touched(hives: Iterable<string>, may?: Iterable<string>): void
}

/**
 * Folds a note that is still being spoken. When words show late what counts for all of it ("Cedar" is a hive), the note has
 * to be folded anew from the first words for which it counts. Whoever cannot wait goes back a few utterances, which gets the
 * hive in hand right, and folds the rest anew in slices while nobody speaks.
 */
export interface Folding<P extends Pass> {
  hear(utterance: Utterance): void
  /** Everything folded with what the whole note shows. The cost may be that of the note. */
  whole(): P
  /** Good for the hive in hand. The cost is that of a few utterances, and nothing where nothing was heard since. */
  quick(): P
  /** Folds anew what has to be, for about so many milliseconds; true when `quick` is as good as `whole`. */
  catchUp(ms: number): boolean
  /** Keeps what is there now, so that `rewind` can come back to it, once. */
  mark(): void
  rewind(): void
}

/** So many utterances a name learned late reaches back at once. */
const AT_ONCE = 5
/** Of the utterances before those, the pass is kept as it stood at every so many. */
const APART = 8

/** A pass as it stood when so many utterances were folded into it. */
interface Stand<P> {
  readonly pass: P
  readonly folded: number
  /** It is what folding these utterances anew would give, with what the note showed then. */
  readonly isWhole: boolean
}

/** A pass that is being folded, and how it stood on the way. */
interface Way<P> {
  pass: P
  folded: number
  isWhole: boolean
  /** How it stood before each of the last utterances and at some places earlier, in order. */
  stands: Stand<P>[]
}

/** The hives at which words about bees, of those marked from a place on, became no reading. */
const remarkedAt = (marks: readonly Mark[], from: number): string[] =>
  marks.slice(from).flatMap(({ kind, place }) => (kind === 'remark' ? place.hive : []))

const wayFrom = <P>(pass: P): Way<P> => ({ pass, folded: 0, isWhole: true, stands: [] })

export function createFolding<P extends Pass>(how: FoldingHow<P>): Folding<P> {
  const { begin, fold, same, renewed, touched } = how
  const heard: Utterance[] = []
  let way = wayFrom(begin('late'))
  /** Somebody looks on while the note is spoken: stands are worth their while. */
  let isLive = false
  /** Something was heard since the last look. */
  let isBehind = false
  let anew: Way<P> | null = null
  /** What the whole note shows, as long as nothing more is heard. */
  let shown: P | null = null
  let marked: Stand<P> | null = null

  const copy = (one: P): P => ({ ...one, state: kept(one.state), marks: [...one.marks] })
  const wholeNote = (): P => {
    shown ??= begin('whole')
    return copy(shown)
  }
  const wholeNoteIn = (ms: number): P | null => {
    shown ??= begin('whole', ms)
    return shown && copy(shown)
  }
  /** The state that was kept last, and what it was of: at one place a way is kept for `rewind` and as a stand. */
  let last: { state: State; folded: number; kept: State } | null = null
  const standOf = ({ pass, folded, isWhole }: Way<P>): Stand<P> => {
    const { state } = pass
    const isSame = last?.state === state && last.folded === folded
    last = { state, folded, kept: isSame ? keptAgain(state, last!.kept) : kept(state) }
    return { pass: { ...pass, state: last.kept, marks: [...pass.marks] }, folded, isWhole }
  }
  const keepStand = (one: Way<P>): P => {
    const { folded, stands } = one
    const stand = standOf(one)
    while (stands.length > 0 && stands[stands.length - 1]!.folded >= folded) stands.pop()
    stands.push(stand)
    const old = stands.length - 1 - AT_ONCE
    if (old >= 0 && stands[old]!.folded % APART !== 0) stands.splice(old, 1)
    return stand.pass
  }
  /** Folds the next utterance. */
  const go = (one: Way<P>): void => {
    fold(one.pass, heard[one.folded++]!)
  }
  const forward = (): void => {
    while (way.folded < heard.length) {
      const { start } = heard[way.folded]!
      const before = isLive ? keepStand(way) : null
      const count = way.pass.state.drafts.length
      const marked = way.pass.marks.length
      go(way)
      const may = touchedHives(way.pass.state, count, start)
      if (before) touched([...changedHives(before.state, way.pass.state), ...remarkedAt(way.pass.marks, marked)], may)
      else touched(may)
    }
    isBehind = false
  }
  /** The latest stand up to which the note came out as it would now. */
  const lastSame = (stands: readonly Stand<P>[], fresh: P): number =>
    leading(stands, ({ pass, folded, isWhole }) => isWhole && same(pass, fresh, folded)) - 1
  const goBack = (to: Stand<P>): void => {
    const may = touchedHives(way.pass.state, to.pass.state.drafts.length, heard[to.folded]?.start ?? 0)
    touched(changedHives(to.pass.state, way.pass.state), may)
    way = { ...way, pass: copy(to.pass), folded: to.folded }
  }
  /** The way that is being folded anew, begun again if the whole note shows something else by now. */
  const anewWith = (fresh: P): Way<P> => {
    if (anew && same(anew.pass, fresh, anew.folded)) {
      anew.pass = renewed(anew.pass, fresh)
      return anew
    }
    const [own, other] = [way.stands, anew?.stands ?? []].map((stands) => stands.slice(0, lastSame(stands, fresh) + 1))
    const stands = (other!.at(-1)?.folded ?? 0) > (own!.at(-1)?.folded ?? 0) ? other! : own!
    const from = stands.at(-1)
    anew = from ? { pass: renewed(copy(from.pass), fresh), folded: from.folded, isWhole: true, stands } : wayFrom(fresh)
    return anew
  }
  const take = (next: Way<P>): void => {
    touched(changedHives(way.pass.state, next.pass.state))
    way = next
    anew = null
  }

  const quick = (): P => {
    isLive = true
    if (!isBehind) return way.pass
    const fresh = begin('late')
    const { stands } = way
    if (same(way.pass, fresh, way.folded)) way.pass = renewed(way.pass, fresh)
    else {
      const at = way.isWhole ? lastSame(stands, fresh) : -1
      const first = Math.max(0, stands.length - AT_ONCE)
      const to = stands[Math.max(at, first)]
      // a note that is hardly longer than what is gone back is folded anew at once
      if (!to || heard.length <= AT_ONCE * 2) take(wayFrom(fresh))
      else {
        goBack(to)
        way.pass = renewed(way.pass, fresh)
        if (at < first) way.isWhole = false
      }
    }
    forward()
    return way.pass
  }

  return {
    hear(utterance) {
      heard.push(utterance)
      isBehind = true
      shown = null
    },
    whole() {
      const fresh = wholeNote()
      if (way.isWhole && same(way.pass, fresh, way.folded)) way.pass = renewed(way.pass, fresh)
      else take(anewWith(fresh))
      forward()
      how.whole(way.pass)
      return way.pass
    },
    quick,
    catchUp(ms) {
      isLive = true
      const until = performance.now() + ms
      const fresh = wholeNoteIn(ms)
      if (!fresh) return false
      if (way.isWhole && !isBehind && same(way.pass, fresh, way.folded)) {
        way.pass = renewed(way.pass, fresh)
        how.whole(way.pass)
        return true
      }
      const next = anewWith(fresh)
      for (let now = performance.now(); next.folded < heard.length; ) {
        keepStand(next)
        go(next)
        const last = now
        now = performance.now()
        // the next one will take about as long as this one
        if (now + (now - last) >= until) return false
      }
      take(next)
      isBehind = false
      how.whole(way.pass)
      return true
    },
    mark() {
      quick()
      marked = standOf(way)
    },
    rewind() {
      if (!marked) return
      goBack(marked)
      way.isWhole = marked.isWhole
      heard.length = marked.folded
      way.stands = way.stands.filter(({ folded }) => folded <= heard.length)
      anew = null
      marked = null
      isBehind = true
      shown = null
    },
  }
}
