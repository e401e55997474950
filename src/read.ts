import type { ClauseReader } from './clauses/reader.ts'
import { fitted } from './fitted/fitted.ts'
import { english, englishVocabulary } from './grammar/english.ts'
import type { Grammar } from './grammar/grammar.ts'
import { withOwnWords } from './grammar/own-words.ts'
import { createFollower, type WholeTraced } from './hives/follower.ts'
import type { LearnedOfCalls } from './hives/learned.ts'
import { copyEvidence, gatherNames, type NameEvidence, newEvidence, wholeNote } from './hives/names.ts'
import { nearName } from './hives/near-names.ts'
import { hearStrange, newStrangeness, type Strangeness, strangeness } from './language/strange.ts'
import { splitUtterances } from './language/utterances.ts'
import type { Utterance } from './language/word.ts'
import { splitWords } from './language/words.ts'
import type { Names } from './reading/lookup.ts'
import { assemble } from './record/assemble.ts'
import { step } from './record/fold.ts'
import { createFolding, type Pass } from './record/folding.ts'
import { createGlancer } from './record/glance.ts'
import { sameCalls, takeCalls } from './record/hive-calls.ts'
import { boxName } from './record/resolve.ts'
import type { InspectionRecord } from './record/schema.ts'
import { newState, type State } from './record/state.ts'
import type { Region } from './record/turn.ts'
import type { Transcript } from './transcript/transcript.ts'

/** What a reader is told beside the words. */
export interface ReadOptions {
  /** The note's name; a file name without its ending. */
  readonly name: string
  /** ISO date of the visit. Dates in the note are counted from it; without it they stay unresolved. */
  readonly date?: string
  /** Hive and yard names, habits and units of the place. */
  readonly yard?: YardHints
  /** Another grammar than the English one that ships. */
  readonly grammar?: Grammar
  /** Something else learned of what calls a hive than what ships. */
  readonly hives?: LearnedOfCalls
  /** Another reader of clauses than the one that ships; null: only the lines of the grammar read. */
  readonly clauses?: ClauseReader | null
}

/** The part of a yard file that reading uses. */
export interface YardHints {
  readonly apiaries?: readonly { readonly name: string; readonly said?: readonly string[] | undefined }[] | undefined
  readonly hives?: readonly { readonly name: string; readonly said?: readonly string[] | undefined }[] | undefined
  /** Own words and what they stand for. */
  readonly words?: Readonly<Record<string, string>> | undefined
  readonly region?: { readonly temperature?: 'C' | 'F' | undefined } | undefined
}

/**
 * A reader is a fold: it hears one utterance at a time and can give the record at any moment. What is learned late (that
 * "Cedar" is a hive) counts for the whole note: the record is then folded anew from the utterances heard.
 */
export interface Reader {
  /** Hears one utterance; the cost does not grow with what was heard before. */
  hear(utterance: Utterance): void
  /** The record of all that was heard so far. */
  record(): InspectionRecord
  /**
   * The record of one hive (that in hand) with what was said of the visit, as the whole record has it; without account. Costs
   * what the hive costs, not the note.
   */
  glance(hive?: string): InspectionRecord
  /** The same for several hives. `visit as it was`: what was said of the visit as a whole may be older by some utterances. */
  glances(hives: readonly string[], visit?: 'visit as it was'): InspectionRecord[]
  /** The hives whose readings or remarks the last words heard may have changed, since this was last asked. */
  touched(): ReadonlySet<string>
  /**
   * What is learned late and counts for the whole note is at first right for the hive in hand only. This does the rest, for
   * about `ms` milliseconds; true when nothing is left. `record` does all of it at once.
   */
  catchUp(ms: number): boolean
  /** Keeps what was heard so far, so that `rewind` can go back to it: the words since may be said otherwise. */
  mark(): void
  /** Unhears all since the last `mark`. The transcript must have lost it too. */
  rewind(): void
  /** The hives so far, in the order of the calling. */
  hives(): readonly string[]
  /** Where the keeper is just now, as of the last record: hive, box, frame and side in hand. */
  place(): { hive: string; box: string | null; frame: number | null; side: 'A' | 'B' | null }
}

/** A pass over the utterances with a fixed set of names. */
interface NamedPass extends Pass {
  /** How hives are called, as the whole note shows it. */
  readonly seen: Pick<State, 'expected' | 'calledBy'> | null
  readonly names: Omit<Names, 'known' | 'misheard'>
  /** How hives are called, where it was worked out for the whole note. */
  readonly traced: WholeTraced | null
}

/** A reader for the utterances of `transcript`. `hear` them in order; hearing all of them equals `readNote`. */
export function createReader(transcript: Transcript, options: ReadOptions): Reader {
  const grammar = options.grammar ?? english()
  const clauses = options.clauses === undefined ? (fitted()?.clauses ?? null) : options.clauses
  const vocabulary = englishVocabulary()
  const region: Region = { temperature: options.yard?.region?.temperature ?? null }
  const given = namesOf(options.yard).hives
  let evidence = newEvidence()
  let strange = newStrangeness()
  /** Words that were probably meant for a hive of the yard file. */
  let misheard = new Map<string, string>()
  let marked: { evidence: NameEvidence; strange: Strangeness; misheard: Map<string, string> } | null = null
  const follower = createFollower(grammar, given, options.hives ?? fitted()?.hives)
  const glancer = createGlancer(transcript, options.name)
  let touched = new Set<string>()
  /** The utterance in which each word was said first, and how many there were. */
  const firstSaid = new Map<string, number>()
  let heard = 0
  let heardThen = 0
  const saidBefore = (name: string, folded: number): boolean =>
    (firstSaid.get(name.split(' ')[0]!) ?? Number.POSITIVE_INFINITY) < folded

  function begin(how: 'whole' | 'late'): NamedPass
  function begin(how: 'whole', ms: number): NamedPass | null
  function begin(how: 'whole' | 'late', ms?: number): NamedPass | null {
    const note = wholeNote(evidence)
    const { run, learned } = note
    const traced =
      how === 'late' ? null : ms === undefined ? follower.whole(note, misheard) : follower.wholeIn(ms, note, misheard)
    if (how === 'whole' && !traced) return null
    const calls = traced?.calls ?? follower.late(note, misheard)
    const names = namesOf(options.yard)
    for (const [word, label] of misheard) names.hives.set(word, label)
    for (const name of learned) if (!names.hives.has(name)) names.hives.set(name, name)
    for (const { taken, kind, labels } of calls)
      if (taken && kind === 'name')
        for (const label of labels) if (!names.hives.has(label)) names.hives.set(label, label)
    const byOrder = evidence.orderCalls > 1 && evidence.frameCalls.length < evidence.orderCalls
    const seen = run
      ? { expected: [run.first, run.last] as [number, number], calledBy: 'bare' as const }
      : byOrder
        ? { expected: null, calledBy: 'order' as const }
        : null
    return {
      state: { ...newState(options.date ?? null), ...seen, calls },
      marks: [],
      names,
      seen,
      traced,
    }
  }
  const folding = createFolding<NamedPass>({
    begin,
    fold(pass, utterance) {
      const names: Names = { ...pass.names, known: new Set(pass.state.hives), misheard }
      for (const mark of step(pass.state, utterance, { grammar, names, region, clauses })) pass.marks.push(mark)
    },
    same: (pass, fresh, folded) =>
      sameSeen(pass, fresh) &&
      [...otherNames(pass.names.hives, fresh.names.hives)].every((name) => !saidBefore(name, folded)) &&
      sameCalls(pass.state, fresh.state.calls),
    renewed(pass, fresh) {
      takeCalls(pass.state, fresh.state.calls)
      return { ...fresh, state: pass.state, marks: pass.marks }
    },
    whole({ traced }) {
      if (traced) follower.settleOn(traced)
    },
    touched(hives, may) {
      glancer.touch(hives, may)
      if (may) for (const hive of hives) touched.add(hive)
    },
  })
  /** With what is reckoned from all that was heard. */
  const reckoned = (pass: NamedPass): NamedPass => {
    const { state } = pass
    state.nameScores = new Map(
      [...evidence.scores].filter(([name]) => !given.has(name)).map(([name, { score }]) => [name, score]),
    )
    state.strange = strangeness(strange)
    return pass
  }
  let state = begin('late').state
  const glances: Reader['glances'] = (hives, visit) => {
    const pass = reckoned(folding.quick())
    state = pass.state
    return glancer.glance(state, pass.marks, hives, visit)
  }
  return {
    hear(utterance) {
      folding.hear(utterance)
      for (const { norm } of utterance.words) if (!firstSaid.has(norm)) firstSaid.set(norm, heard)
      heard++
      if (utterance.suspect) return
      gatherNames(evidence, utterance, vocabulary)
      hearStrange(strange, utterance, vocabulary)
      follower.hear(utterance)
      if (given.size === 0) return
      for (const { norm } of utterance.words) {
        const label = misheard.has(norm) ? undefined : nearName(norm, given, vocabulary)
        if (label !== undefined) misheard.set(norm, label)
      }
    },
    record() {
      const pass = reckoned(folding.whole())
      state = pass.state
      return assemble(state, pass.marks, transcript, options.name)
    },
    glance: (hive) => glances([hive ?? folding.quick().state.hive])[0]!,
    glances,
    touched() {
      state = folding.quick().state
      const out = touched
      touched = new Set()
      return out
    },
    catchUp(ms) {
      const done = folding.catchUp(ms)
      if (done) state = folding.quick().state
      return done
    },
    mark() {
      folding.mark()
      follower.mark()
      heardThen = heard
      marked = { evidence: copyEvidence(evidence), strange: { ...strange }, misheard: new Map(misheard) }
    },
    rewind() {
      if (!marked) return
      ;({ evidence, strange, misheard } = marked)
      marked = null
      heard = heardThen
      for (const [word, utterance] of firstSaid) if (utterance >= heard) firstSaid.delete(word)
      follower.rewind()
      folding.rewind()
      glancer.forget()
      state = folding.quick().state
    },
    hives: () => state.hives,
    place() {
      const { hive, box, frame, side } = state
      return { hive, box: boxName(box) || null, frame, side }
    },
  }
}

const sameSeen = ({ seen: a }: NamedPass, { seen: b }: NamedPass): boolean =>
  a?.calledBy === b?.calledBy && a?.expected?.join() === b?.expected?.join()

/** The names that two lists do not have in common, or that stand for something else. */
function otherNames(a: ReadonlyMap<string, string>, b: ReadonlyMap<string, string>): Set<string> {
  const out = new Set<string>()
  for (const [name, label] of a) if (b.get(name) !== label) out.add(name)
  for (const [name, label] of b) if (a.get(name) !== label) out.add(name)
  return out
}

const ownGrammars = new WeakMap<object, Grammar>()

/** The grammar that a yard is read with: the English one (or `base`) and the yard's own words. Compiled once a yard. */
export function grammarFor(yard: YardHints | undefined, base: Grammar = english()): Grammar {
  const { words } = yard ?? {}
  if (!words) return base
  const known = base === english() ? ownGrammars.get(words) : undefined
  if (known) return known
  const norms = (text: string): string[] =>
    splitWords(text, 0, text.length, { linesWrap: true }).map(({ norm }) => norm)
  const own = Object.entries(words).map(([said, means]) => ({ said: norms(said), means: norms(means) }))
  const grammar = withOwnWords(base, own)
  if (base === english()) ownGrammars.set(words, grammar)
  return grammar
}

/** The utterances of a transcript, in order; `grammar` is `grammarFor` the yard. */
export const utterancesOf = (transcript: Transcript, grammar: Grammar = english()): Utterance[] =>
  splitUtterances(transcript, grammar, fitted())

/** Reads an opened transcript to its inspection record; unclear speech never throws. */
export function readTranscript(transcript: Transcript, options: ReadOptions): InspectionRecord {
  const reader = createReader(transcript, options)
  const grammar = grammarFor(options.yard, options.grammar)
  for (const utterance of utterancesOf(transcript, grammar)) reader.hear(utterance)
  return reader.record()
}

function namesOf(yard: YardHints | undefined): Omit<Names, 'known' | 'misheard'> & { hives: Map<string, string> } {
  const hives = new Map<string, string>()
  const yards = new Map<string, string>()
  // a bare number calls a hive only where the note says so
  for (const hive of yard?.hives ?? [])
    for (const said of [hive.name, ...(hive.said ?? [])])
      if (!/^\d+$/.test(said)) hives.set(said.toLowerCase(), hive.name.toLowerCase())
  for (const place of yard?.apiaries ?? [])
    for (const said of [place.name, ...(place.said ?? [])]) yards.set(said.toLowerCase(), place.name)
  return { hives, yards }
}
