import type { Entry, Grammar } from '../grammar/grammar.ts'
import { type ClassLookup, matchBegun, matchPattern, mayMatch } from '../grammar/match.ts'
import { touched } from '../grammar/touch.ts'
import { Break, isUnmarked, type Utterance, type Word } from '../language/word.ts'
import type { Cue } from './mention.ts'

/**
 * The standing of clauses, after the ConText idea from clinical text work: a cue, a direction, a reach and what ends it.
 * The cues are data (`standing.json`); how far they reach is decided here.
 */
export function cuesOf(
  utterance: Utterance,
  grammar: Grammar,
  lookup: ClassLookup,
  carried: string | null = null,
): Cue[] {
  const { words } = utterance
  const found: { entry: Entry; at: [number, number] }[] = []
  for (let i = 0; i < words.length; i++) {
    let longest: { entry: Entry; at: [number, number] } | undefined
    const tryEntry = (entry: Entry): void => {
      if (!mayMatch(entry.pattern, words, i)) return
      const match = matchBegun(entry.pattern, words, i, lookup)
      if (!match || touched(entry, words, i, match.end, lookup)) return
      if (
        entry.near.length > 0 &&
        !entry.near.some(
          (pattern) =>
            mayMatch(pattern, words) &&
            words.some((_, j) => Math.abs(j - i) <= NEARBY && matchPattern(pattern, words, j, lookup)),
        )
      )
        return
      if (!longest || match.end > longest.at[1]) longest = { entry, at: [i, match.end] }
    }
    for (const entry of grammar.cues.byWord.get(words[i]!.norm) ?? []) tryEntry(entry)
    for (const [name, entries] of grammar.cues.byClass)
      if (lookup(name, i).length > 0) for (const entry of entries) tryEntry(entry)
    if (longest) found.push(longest)
  }
  const told = found.filter((c) => c.entry.line.cue === 'earlier').map((c) => c.at[0])
  // "six frames last time and it's six again today": a clause that ends in today is of today from where it begins
  const resets = found
    .filter((c) => c.entry.line.cue === 'reset')
    .map(({ at: [at] }) => {
      const from = /^(now|today)$/.test(words[at]!.norm) ? clauseStart(words, at) : at
      return at - from > SHORT_CLAUSE || told.some((t) => t >= from && t < at) ? at : from
    })
  const cues: Cue[] = []
  for (const { entry, at } of found) {
    let kind = entry.line.cue as Cue['kind'] | 'season'
    if (kind === 'reset') continue
    // "she was new in May" tells of the past; "requeen this one in August" of what is to come
    if (kind === 'season')
      kind = isTold(words, clauseStart(words, at[0]), clauseEnd(words, at[1])) ? 'earlier' : 'planned'
    const reach = entry.line.reach ?? 'clause'
    let [from, to] = extent(reach, at, words, resets)
    // "she was on frame five last week": the time said last bears on the clause before it too
    if (kind === 'earlier' && reach !== 'word' && reach !== 'around') {
      from = toldFrom(words, at)
      // "I squashed her nine days ago": said behind its verb, a time bears on nothing that follows
      to =
        isPast(words, from, at[0]) || /^(from|since)$/.test(words[at[0] - 1]?.norm ?? '')
          ? tail(words, at[1])
          : pastUntil(words, at[1], to)
    }
    if (kind === 'denied' && reach === 'clause')
      to = isObject(words, at[1]) ? at[1] : untilObject(words, at[1], untilTime(words, at[1], to))
    if (kind === 'question') to = untilAnswer(words, at[1], to)
    cues.push({ kind, by: entry.id, at, from, to, run: reach === 'run', one: kind === 'denied' && reach === 'noun' })
  }
  if (carried !== null && words[0]!.brk === Break.inferred) {
    const to = pastUntil(words, 0, resets[0] ?? words.length)
    if (to > 0 && isPast(words, 0, to)) cues.push({ kind: 'earlier', by: carried, at: [0, 0], from: 0, to, run: true })
  }
  if (words[words.length - 1]?.mark === '?') {
    // a question mark asks about its own sentence, back to the last comma-free start
    cues.push({
      kind: 'question',
      by: 'mark',
      at: [words.length, words.length],
      from: questionStart(words),
      to: words.length,
      run: false,
    })
  }
  return cues
}

function extent(
  reach: string,
  at: [number, number],
  words: readonly Word[],
  resets: readonly number[],
): [number, number] {
  const nextReset = resets.find((r) => r >= at[1]) ?? words.length
  if (reach === 'word') return [at[0], at[1]]
  if (reach === 'back') {
    let from = at[0]
    while (
      from > 0 &&
      words[from]!.brk < Break.hard &&
      at[0] - from < 8 &&
      !(words[from]!.brk >= Break.soft && from < at[0]) &&
      !/^(any|but)$/.test(words[from]!.norm)
    )
      from--
    return [from, at[1]]
  }
  // "put an excluder in next time": it bears on its clause when it ends it
  if (reach === 'tail') {
    const ends = at[1] >= words.length || words[at[1]]!.brk >= Break.inferred
    return ends ? [Math.max(clauseStart(words, at[0]), at[0] - UNMARKED_REACH), at[1]] : [at[0], at[1]]
  }
  if (reach === 'around')
    return isUnmarked(words)
      ? [Math.max(0, at[0] - UNMARKED_AROUND), Math.min(words.length, at[1] + UNMARKED_AROUND)]
      : [0, words.length]
  if (reach === 'sentence' || reach === 'run') return [at[0], Math.min(nextReset, sentenceEnd(words, at[1]))]
  if (reach === 'noun') {
    let to = at[1]
    while (
      to < words.length &&
      to < at[1] + 4 &&
      (words[to]!.brk < Break.inferred || isListed(words, to)) &&
      !STOPS.has(words[to]!.norm) &&
      !(to > at[1] && /^\d+$/.test(words[to]!.norm))
    )
      to++
    return [at[0], to]
  }
  let to = at[1]
  const unmarked = isUnmarked(words)
  while (to < words.length && to < nextReset) {
    const word = words[to]!
    // with no marks at all, a clause is taken to be short
    if (unmarked && to - at[1] >= UNMARKED_REACH) break
    if (word.brk >= Break.soft && to > at[1] && !listGoesOn(word)) break
    if (word.brk === Break.inferred && to > at[1]) break
    if (to > at[1] && ENDS_CLAUSE.has(word.norm)) break
    to++
  }
  return [at[0], to]
}

const PAST =
  /^(was|were|had|did|gave|took|put|saw|lost|went|came|got|found|left|made|said|told|caught|kept|died|ran|swarmed|moved|hived|fed|split|cut|shook|threw|stuck|bought|brought|sent|spun|built|drew|swept|broke|tore|stole|[a-z]{3,}ed)$/

const isPast = (words: readonly Word[], from: number, to: number): boolean => {
  for (let i = from; i < to; i++) if (PAST.test(words[i]!.norm)) return true
  return false
}

/** Whether a clause tells of the past and not of what will be. */
const isTold = (words: readonly Word[], from: number, to: number): boolean =>
  isPast(words, from, to) &&
  !words
    .slice(from, to)
    .some((word) => /^(will|'ll|going|gonna|must|needs?|wants?|gets?|getting|shall|to)$/.test(word.norm))

/** "No eggs, larvae or brood": a list that goes on to an "or". */
function isListed(words: readonly Word[], at: number): boolean {
  if (words[at]!.brk !== Break.soft) return false
  for (let i = at + 1; i < words.length && i <= at + 4 && words[i]!.brk < Break.inferred; i++)
    if (words[i]!.norm === 'or' || words[i]!.norm === 'nor') return true
  return false
}

/** A denial of one thing ends behind that thing, unless "or" or a comma leads on to the next. */
export function oneThing(
  cues: readonly Cue[],
  words: readonly Word[],
  spans: readonly (readonly [number, number])[],
): Cue[] {
  return cues.map((cue) => {
    if (!cue.one) return cue
    let to = cue.to
    let last: readonly [number, number] | undefined
    for (const span of spans) {
      if (span[0] >= cue.to || span[1] <= cue.at[1]) continue
      if (
        last !== undefined &&
        words[span[0]]!.brk !== Break.soft &&
        !/^(or|nor|and)$/.test(words[span[0] - 1]!.norm)
      ) {
        to = last[1]
        break
      }
      last = span
    }
    return { ...cue, to }
  })
}

/** How far a story goes on: clause by clause, as long as it is told in the past tense. */
function pastUntil(words: readonly Word[], from: number, limit: number): number {
  let at = from
  while (at < limit) {
    let end = at + 1
    while (end < limit && words[end]!.brk < Break.inferred) end++
    if (at > from && !isPast(words, at, end) && !isScrapOf(words, at, end, limit)) return at
    at = end
  }
  return limit
}

const PRESENT = /^(is|are|am|'s|has|have|'ve|do|does|looks?|seems?|now|today|got|gets?|needs?|wants?|will|can)$/

/** "I found the queen, yellow spot, on the third frame, and there was a cell": scraps between two clauses of a story belong to it. */
function isScrapOf(words: readonly Word[], from: number, to: number, limit: number): boolean {
  let at = from
  let end = to
  for (let n = 0; n < 3; n++) {
    if (end - at > 5 || words.slice(at, end).some((word) => PRESENT.test(word.norm))) return false
    if (end >= limit) return false
    at = end
    end = at + 1
    while (end < limit && words[end]!.brk < Break.inferred) end++
    if (isPast(words, at, end)) return true
  }
  return false
}

/** Where an engine wrote commas for all borders, a sentence is the clause with the cue and the one after it. */
function sentenceEnd(words: readonly Word[], from: number): number {
  if (isUnmarked(words)) return Math.min(words.length, from + UNMARKED_SENTENCE)
  const commas = words.reduce((n, word) => n + (word.brk === Break.soft ? 1 : 0), 0)
  if (commas < 4 || words.length < 18) return words.length
  let passed = 0
  for (let i = from; i < words.length; i++) if (words[i]!.brk >= Break.soft && ++passed === 2) return i
  return words.length
}

function clauseEnd(words: readonly Word[], at: number): number {
  let to = at
  while (to < words.length && words[to]!.brk < Break.inferred) to++
  return to
}

function clauseStart(words: readonly Word[], at: number): number {
  let from = at
  while (from > 0 && words[from]!.brk < Break.inferred) from--
  return from
}

/** Where the clause of a time begins: "they swarmed on me last year" is one, though a time may begin a new one. */
function toldFrom(words: readonly Word[], at: readonly [number, number]): number {
  const from = clauseStart(words, at[0])
  // "… before they sell out, like they did last spring": said of what it is like
  for (let i = at[0] - 1; i > from; i--)
    if (/^(like|as|than|because|cos)$/.test(words[i]!.norm) && /^(they|she|it|i|we|he|in|on)$/.test(words[i + 1]!.norm))
      return i
  const next = words[at[1]]
  const ends = next === undefined || next.brk >= Break.soft || next.norm === 'so' || next.norm === 'but'
  if (from < at[0] || from === 0 || words[from]!.brk !== Break.inferred || !ends) return from
  const before = clauseStart(words, from - 1)
  return isPast(words, before, from) ? before : from
}

/** "…, blue dot and all": a scrap that ends in "and all" belongs to what it is tacked on to. */
function tail(words: readonly Word[], at: number): number {
  if (words[at]?.brk !== Break.soft) return at
  let end = at + 1
  while (end < words.length && end - at < 7 && words[end]!.brk < Break.inferred) end++
  return words[end - 1]!.norm === 'all' && words[end - 2]!.norm === 'and' ? end : at
}

/** "They do not eat much till the brood gets going": a denial ends where another time begins. */
function untilTime(words: readonly Word[], from: number, to: number): number {
  for (let i = from; i < to; i++) {
    if (/^(till|until|before|after|because|since|unless)$/.test(words[i]!.norm)) return i
    // a count behind what is denied begins something else
    if (
      i > from + 1 &&
      /^(plenty|loads|lots|several|heaps|two|three|four|five|six|seven|eight|nine|ten|\d+)$/.test(words[i]!.norm) &&
      !/^(the|of|in|on|for|these|those|my|all|frame|hive|number|nuc|or|to|than)$/.test(words[i - 1]!.norm)
    )
      return i
  }
  return to
}

const OBJECTS = new Set(['it', 'them', 'him'])
const GO_ON =
  /^(in|on|at|to|from|with|of|for|up|down|off|out|anywhere|any|at|and|or|as|by|yet|today|myself|all|back|over|either|laying)$/

/** "Not touched it eggs down low": with no marks, a denial that has its object ends behind it. */
function untilObject(words: readonly Word[], from: number, to: number): number {
  if (!isUnmarked(words)) return to
  for (let i = from + 1; i + 1 < to; i++)
    if (OBJECTS.has(words[i]!.norm) && !GO_ON.test(words[i + 1]!.norm)) return i + 1
  return to
}

/** "Fed them nothing, stores are plentiful": it ends its clause, and bears on nothing behind it. */
const isObject = (words: readonly Word[], end: number): boolean =>
  /^(nothing|nowt)$/.test(words[end - 1]!.norm) && end > 1 && (words[end]?.brk ?? Break.hard) >= Break.soft

const ANSWERS = new Set(['yes', 'yep', 'yeah', 'yup', 'aye', 'no', 'nope', 'nah', 'none', 'nup'])

/** "Any drone brood yes a bit": a question ends where its answer begins. */
function untilAnswer(words: readonly Word[], from: number, to: number): number {
  for (let i = from; i < to; i++) if (words[i]!.brk >= Break.inferred && ANSWERS.has(words[i]!.norm)) return i
  return to
}

/** Beyond so many words a clause with no marks is likely two. */
const SHORT_CLAUSE = 5

/** How far off a word may stand that a cue wants near it. */
const NEARBY = 16

/** How many words a cue reaches where the engine wrote no marks. */
const UNMARKED_REACH = 6
const UNMARKED_SENTENCE = 10
const UNMARKED_AROUND = 12

const ENDS_CLAUSE = new Set(['but', 'though', 'so', 'just', 'only', 'except', 'apart', 'bar'])

const STOPS = new Set([
  'saw',
  'found',
  'took',
  'gave',
  'put',
  'pulled',
  'added',
  'moved',
  'left',
  'on',
  'just',
  'only',
  'except',
  'apart',
  'bar',
  'and',
  'but',
  'so',
  'with',
  'is',
  'are',
  "'s",
  'i',
  'they',
  'she',
  'it',
  'there',
  'because',
])
const listGoesOn = (word: Word): boolean => word.norm === 'or' || word.norm === 'nor'

const GUESSED = /^(frames?|combs?|seams?|of|cells|cups|mites|beetles|kilos?|litres?|gallons?|pounds?)$/

function questionStart(words: readonly Word[]): number {
  // "it's down to, what, eight frames?": a guess at an amount asks nothing
  const guess = words.findLastIndex(({ norm }) => norm === 'what')
  const amount = words.slice(guess + 1, guess + 5).some(({ norm }) => GUESSED.test(norm))
  if (guess > 0 && amount && words[guess]!.brk >= Break.soft && words[guess + 1]!.brk >= Break.soft) return words.length
  for (let i = words.length - 1; i > 0; i--) if (words[i]!.brk >= Break.hard) return i
  return 0
}

/** Kinds that a phrase answers for itself when it holds the cue: "no queen", "could do with a feed". */
const OWN = new Set<Cue['kind']>(['denied', 'wish'])

/** Cues that bear on the words from..to. */
export function standingOf(cues: readonly Cue[], from: number, to: number): Cue[] {
  return cues.filter(
    (cue) => cue.from < to && cue.to > from && !(cue.at[0] >= from && cue.at[1] <= to && OWN.has(cue.kind)),
  )
}
