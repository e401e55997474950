import type { Grammar } from '../grammar/grammar.ts'
import type { Line } from '../grammar/line.ts'
import type { ClassLookup } from '../grammar/match.ts'
import type { Utterance, Word } from '../language/word.ts'
import { type Candidate, candidatesOf } from './candidates.ts'
import { deedsOf } from './deeds.ts'
import { lookupFor, type Names, namesBearing, type Term } from './lookup.ts'
import type { Cue, Meaning, Mention } from './mention.ts'
import { cuesOf, oneThing, standingOf } from './standing.ts'
import { tasksOf } from './tasks.ts'

/** What the words of an utterance could change in the setting before its last word. */
export interface Facts {
  readonly topics: ReadonlySet<string>
  readonly contents: ReadonlySet<string>
  readonly places: boolean
}

/** Whether the conditions of a line could hold for these words in the setting at hand. */
export type Possible = (line: Line, from: number, to: number, facts: Facts) => boolean

function factsOf(all: readonly (readonly Candidate[])[]): Facts {
  const topics = new Set<string>()
  const contents = new Set<string>()
  let places = false
  for (const here of all) {
    for (const { entry, match } of here) {
      if (entry.line.topic)
        topics.add(
          entry.line.topic.replace(/\$(\w+)/g, (_, name: string) => (match.captures[name]?.value as Term)?.value),
        )
      if (entry.line.act === 'supers') topics.add('super')
      if (entry.line.act === 'capshare') topics.add('honey')
      if (entry.line.place) places = true
      for (const [name, hit] of Object.entries(match.captures))
        if (name.startsWith('content')) contents.add((hit.value as Term).value)
    }
  }
  return { topics, contents, places }
}

/** What the words of an utterance may mean before the setting is looked at. */
interface Readable {
  readonly lookup: ClassLookup
  readonly all: readonly (readonly Candidate[])[]
  readonly facts: Facts
  readonly deeds: readonly Candidate[]
}

const readBefore = new WeakMap<Utterance, { grammar: Grammar; names: string; readable: Readable }>()

/** A note that is folded anew has its words looked up again only where other names bear on them. */
function readable(utterance: Utterance, grammar: Grammar, names: Names): Readable {
  const { words } = utterance
  const bearing = namesBearing(utterance, names)
  const before = readBefore.get(utterance)
  if (before?.grammar === grammar && before.names === bearing) return before.readable
  const lookup = lookupFor(words, grammar, names)
  const all = candidatesOf(words, grammar, lookup)
  const deeds = [...deedsOf(words, grammar, lookup), ...tasksOf(words, grammar, lookup)]
  const now: Readable = { lookup, all, facts: factsOf(all), deeds }
  readBefore.set(utterance, { grammar, names: bearing, readable: now })
  return now
}

/** The mentions of an utterance, and the cues for the standing of any of its words. */
export interface Heard {
  readonly mentions: Mention[]
  /** The cues over the words `from..to`. */
  standing(from: number, to: number): readonly Cue[]
}

/**
 * Finds the small phrases that mean something and skips what does not. Overlaps are settled here and only here: the
 * reading that explains the most words with the fewest pieces wins, then the one with the higher `rank`, then the earlier
 * line of the grammar.
 */
export function findMentions(
  utterance: Utterance,
  grammar: Grammar,
  names: Names,
  possible: Possible = () => true,
  carried: string | null = null,
): Heard {
  const { words } = utterance
  const { lookup, all, facts, deeds } = readable(utterance, grammar, names)
  const candidates = all.map((here) =>
    here.filter((c) => !conditional(c) || possible(c.entry.line, c.from, c.end, facts)),
  )
  const chosen = withDeeds(
    candidates,
    deeds.filter((c) => !conditional(c) || possible(c.entry.line, c.from, c.end, facts)),
    words.length,
  )
  const cues = oneThing(
    cuesOf(utterance, grammar, lookup, carried),
    words,
    chosen
      .filter((group) => group.some((c) => c.entry.gives.length > 0 || c.entry.line.act === 'content'))
      .map((group) => [group[0]!.from, group[0]!.end] as const),
  )
  return {
    mentions: chosen.map((group) => toMention(group, words, candidates, cues)),
    standing: (from, to) => standingOf(cues, from, to),
  }
}

const worth = (c: Candidate): number => c.match.taken * 10 - 4 + (c.entry.line.rank ?? 0)

/** The best set of disjoint candidates between two words, grouped by span. */
function best(
  at: readonly (readonly Candidate[])[],
  from: number,
  to: number,
  allowed: (c: Candidate) => boolean = () => true,
): Candidate[][] {
  const value = new Array<number>(to + 1).fill(0)
  const pick = new Array<Candidate | undefined>(to + 1)
  for (let i = to - 1; i >= from; i--) {
    value[i] = value[i + 1]!
    for (const c of at[i]!) {
      if (c.end > to || !allowed(c)) continue
      const v = worth(c) + value[c.end]!
      if (v > value[i]! || (v === value[i]! && pick[i] !== undefined && better(c, pick[i]!))) {
        value[i] = v
        pick[i] = c
      }
    }
  }
  const out: Candidate[][] = []
  for (let i = from; i < to; ) {
    const c = pick[i]
    if (!c) {
      i++
      continue
    }
    const same = at[i]!.filter((other) => other.end === c.end && allowed(other)).sort((a, b) => (better(a, b) ? -1 : 1))
    out.push(same)
    i = c.end
  }
  return out
}

const better = (a: Candidate, b: Candidate): boolean =>
  worth(a) === worth(b) ? a.entry.order < b.entry.order : worth(a) > worth(b)

/** Deeds as `deeds.ts` finds them fill in where no line of the grammar tells of one, or none that has the amount. */
function withDeeds(candidates: Candidate[][], deeds: readonly Candidate[], to: number): Candidate[][] {
  const chosen = best(candidates, 0, to)
  const told = chosen.flat().filter((c) => c.entry.gives.some((give) => DEED.test(give.field)))
  const fresh = deeds.filter((deed) => told.every((c) => c.end <= deed.from || c.from >= deed.end || saysMore(deed, c)))
  if (fresh.length === 0) return chosen
  for (const deed of fresh) candidates[deed.from]!.push(deed)
  return best(candidates, 0, to)
}

const DEED = /^(did|todo)\./

/** Whether a deed has an amount or a kind that a line with nothing else to give left out. */
const saysMore = (deed: Candidate, line: Candidate): boolean =>
  (deed.match.captures.n !== undefined || deed.entry.gives.length > line.entry.gives.length) &&
  deed.from <= line.from &&
  deed.end >= line.end &&
  line.entry.gives.every((give) =>
    deed.entry.gives.some((own) => own.field === give.field && (give.value === 'yes' || give.value === own.value)),
  )

/** Acts that only the fold can tell to be possible: where one is not, the pieces of its words count. */
const MAY_FAIL = /^(verdict|cropTotal|boxshare)$/

const conditional = ({ entry: { line } }: Candidate): boolean =>
  line.when !== undefined || line.never !== undefined || MAY_FAIL.test(line.act ?? '')

function toMention(
  group: readonly Candidate[],
  words: readonly Word[],
  at: readonly (readonly Candidate[])[],
  cues: ReturnType<typeof cuesOf>,
): Mention {
  const { from, end } = group[0]!
  let cost = 0
  for (let i = from; i < end; i++) cost += words[i]!.cost
  const meanings: Meaning[] = group.map((c) => ({ entry: c.entry, captures: c.match.captures }))
  const pieces = group.every(conditional)
    ? best(at, from, end, (c) => !(c.from === from && c.end === end)).map((inner) => toMention(inner, words, at, cues))
    : []
  return {
    start: words[from]!.start,
    end: words[end - 1]!.end,
    from,
    to: end,
    meanings,
    pieces,
    standing: standingOf(cues, from, end),
    cost,
  }
}
