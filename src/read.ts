import { english, englishVocabulary } from './grammar/english.ts'
import type { Grammar } from './grammar/grammar.ts'
import { withOwnWords } from './grammar/own-words.ts'
import { splitUtterances } from './language/utterances.ts'
import type { Utterance } from './language/word.ts'
import { splitWords } from './language/words.ts'
import type { Names } from './reading/lookup.ts'
import { assemble } from './record/assemble.ts'
import { step } from './record/fold.ts'
import { createGlancer, touchedHives } from './record/glance.ts'
import { gatherNames, namesFrom, newEvidence, numberedRun } from './record/names.ts'
import { nearName } from './record/near-names.ts'
import { boxName } from './record/resolve.ts'
import type { InspectionRecord } from './record/schema.ts'
import { newState, type State } from './record/state.ts'
import { hearStrange, newStrangeness, strangeness } from './record/strange.ts'
import type { Mark, Region } from './record/turn.ts'
import { openTranscript } from './transcript/open.ts'
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
  /** The hives whose readings the words heard since this was last asked may have changed. */
  touched(): ReadonlySet<string>
  /** The hives so far, in the order of the calling. */
  hives(): readonly string[]
  /** Where the keeper is just now, as of the last record: hive, box, frame and side in hand. */
  place(): { hive: string; box: string | null; frame: number | null; side: 'A' | 'B' | null }
}

/** One pass over utterances with a fixed set of names. */
interface Pass {
  readonly key: string
  readonly state: State
  readonly marks: Mark[]
  readonly names: Omit<Names, 'known' | 'misheard'>
}

/** A reader for the utterances of `transcript`. `hear` them in order; hearing all of them equals `readNote`. */
export function createReader(transcript: Transcript, options: ReadOptions): Reader {
  const grammar = options.grammar ?? english()
  const vocabulary = englishVocabulary()
  const region: Region = { temperature: options.yard?.region?.temperature ?? null }
  const evidence = newEvidence()
  const given = namesOf(options.yard).hives
  const strange = newStrangeness()
  const heard: Utterance[] = []
  /** Words that were probably meant for a hive of the yard file. */
  const misheard = new Map<string, string>()
  const start = (): Pass => {
    const run = numberedRun(evidence)
    const learned = namesFrom(evidence)
    const names = namesOf(options.yard)
    for (const [word, label] of misheard) names.hives.set(word, label)
    for (const name of learned) if (!names.hives.has(name)) names.hives.set(name, name)
    const state = newState(options.date ?? null)
    if (run) {
      state.expected = [run.first, run.last]
      state.runCalls = run.calls
      state.calledBy = 'bare'
    } else if (evidence.orderCalls > 1 && evidence.frameCalls.length < evidence.orderCalls) state.calledBy = 'order'
    return {
      key: `${learned.join()}|${misheard.size}|${run ? [...run.calls.keys()].join() : ''}|${state.calledBy ?? ''}`,
      state,
      marks: [],
      names,
    }
  }
  const hearIn = (pass: Pass, utterance: Utterance): void => {
    const names: Names = { ...pass.names, known: new Set(pass.state.hives), misheard }
    for (const mark of step(pass.state, utterance, { grammar, names, region })) pass.marks.push(mark)
  }
  let pass = start()
  let folded = 0
  const glancer = createGlancer(transcript, options.name)
  let touched = new Set<string>()
  const fold = (): void => {
    const fresh = start()
    if (fresh.key !== pass.key) {
      pass = fresh
      folded = 0
      glancer.forget()
      touched = new Set()
    }
    while (folded < heard.length) {
      const before = pass.state.drafts.length
      const utterance = heard[folded++]!
      hearIn(pass, utterance)
      const changed = touchedHives(pass.state, before, utterance.start)
      glancer.touch(changed)
      for (const hive of changed) touched.add(hive)
    }
    pass.state.nameScores = new Map(
      [...evidence.scores].filter(([name]) => !given.has(name)).map(([name, { score }]) => [name, score]),
    )
    pass.state.strange = strangeness(strange)
  }
  return {
    hear(utterance) {
      heard.push(utterance)
      if (utterance.suspect) return
      gatherNames(evidence, utterance, vocabulary)
      hearStrange(strange, utterance, vocabulary)
      if (given.size === 0) return
      for (const { norm } of utterance.words) {
        const label = misheard.has(norm) ? undefined : nearName(norm, given, vocabulary)
        if (label !== undefined) misheard.set(norm, label)
      }
    },
    record() {
      fold()
      return assemble(pass.state, pass.marks, transcript, options.name)
    },
    glance(hive) {
      fold()
      return glancer.glance(pass.state, pass.marks, hive ?? pass.state.hive)
    },
    touched() {
      fold()
      const out = touched
      touched = new Set()
      return out
    },
    hives: () => pass.state.hives,
    place() {
      const { hive, box, frame, side } = pass.state
      return { hive, box: boxName(box) || null, frame, side }
    },
  }
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
  splitUtterances(transcript, grammar)

/**
 * Reads one note: the bytes or text of any known transcript format, or an opened transcript, to its inspection record.
 * Throws a CombscribeError for input that is no transcript; unclear speech never throws.
 */
export function readNote(input: Uint8Array | string | Transcript, options: ReadOptions): InspectionRecord {
  const transcript =
    typeof input === 'string' || input instanceof Uint8Array ? openTranscript(input, options.name) : input
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
