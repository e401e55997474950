import { gateOf } from '../grammar/gate.ts'
import type { Entry, EntryIndex, Grammar } from '../grammar/grammar.ts'
import { type ClassLookup, type Found, matchBegun } from '../grammar/match.ts'
import { occur } from '../grammar/present.ts'
import { touched } from '../grammar/touch.ts'
import { type Amount, oneWordNumber, plainNumberAt, readAmount } from '../language/amounts.ts'
import { classesOf } from '../language/classes.ts'
import { dateAt } from '../language/dates.ts'
import { Break, type Utterance, type Word } from '../language/word.ts'

/** What a term stands for, as captured by a pattern. */
export interface Term {
  readonly value: string
  readonly entry: Entry
}

/** Names of hives and yards that are known so far, as word sequences in lower case, to what they are called. */
export interface Names {
  /** Labels of the hives spoken of so far. */
  readonly known: ReadonlySet<string>
  readonly hives: ReadonlyMap<string, string>
  /** Those of `hives` that are a recogniser's try at a name. */
  readonly misheard?: ReadonlyMap<string, string>
  readonly yards: ReadonlyMap<string, string>
}

const NONE: readonly Found[] = []
const NO_TERMS: ReadonlyMap<string, readonly Found[]> = new Map()

/** Classes that are no lists of terms: those that go by the words alone, and those that go by the names known. */
const numbered = (classes: string): ReadonlyMap<string, number> =>
  new Map(classes.split(' ').map((name, i) => [name, i]))
const BY_WORDS = numbered('n int ord frac pct nf row combs sum sample tally decade ints date name code letter')
const BY_NAMES = numbered('hivename yardname hiveno hivelist')

/** Whether a class is a list of terms. */
export const isOfTerms = (name: string): boolean => !BY_WORDS.has(name) && !BY_NAMES.has(name)

/** What is found at a word. */
export interface Lookup extends ClassLookup {
  /** The terms that begin at a word, by their class. */
  readonly terms: (at: number) => ReadonlyMap<string, readonly Found[]>
}

/** Finds terms, amounts, dates and names at a word; remembers what it found. */
export function lookupFor(words: readonly Word[], grammar: Grammar, names: Names): Lookup {
  const plain = plainLookup(words, grammar.terms)
  const named = remembered(BY_NAMES, words.length, (name, at) => {
    if (name === 'hivename') return namesAt(names.hives, words, at, names.misheard)
    if (name === 'yardname') return namesAt(names.yards, words, at)
    return hivesAt(words, at, plain, names, name === 'hivelist')
  })
  const lookup = (name: string, at: number): readonly Found[] =>
    at >= words.length ? NONE : (named(name, at) ?? plain(name, at))
  return Object.assign(lookup, { terms: plain.terms })
}

const plainLookups = new WeakMap<readonly Word[], { terms: EntryIndex; lookup: Lookup }>()

/** What is found whatever names are known: found once, however often an utterance is read. */
function plainLookup(words: readonly Word[], terms: EntryIndex): Lookup {
  const known = plainLookups.get(words)
  if (known?.terms === terms) return known.lookup
  const number = classesOf(words)
  const byWords = remembered(BY_WORDS, words.length, (name, at) => {
    switch (name) {
      case 'date': {
        const date = dateAt(words, at)
        return date ? [{ end: date.end, value: date, cost: 0 }] : NONE
      }
      case 'name':
        return nameAt(words, at)
      case 'code':
        return codeAt(words, at)
      case 'letter':
        return letterAt(words[at]!, words[at + 1]).map((found) => ({ ...found, end: at + 1 }))
      default:
        return number(name, at)
    }
  })
  const termsAt: (ReadonlyMap<string, readonly Found[]> | undefined)[] = new Array(words.length)
  const find = (at: number): ReadonlyMap<string, readonly Found[]> => {
    termsAt[at] ??= findTerms(words, terms, at, number)
    return termsAt[at]
  }
  const lookup = Object.assign(
    (name: string, at: number): readonly Found[] => byWords(name, at) ?? find(at).get(name) ?? NONE,
    { terms: find },
  )
  plainLookups.set(words, { terms, lookup })
  return lookup
}

/** Remembers what some classes find at each word; undefined for all other classes. */
function remembered(
  classes: ReadonlyMap<string, number>,
  length: number,
  find: ClassLookup,
): (name: string, at: number) => readonly Found[] | undefined {
  const found: (readonly Found[] | undefined)[] = new Array(classes.size * length)
  return (name, at) => {
    const row = classes.get(name)
    if (row === undefined) return undefined
    const place = row * length + at
    found[place] ??= find(name, at)
    return found[place]
  }
}

/** The terms of the grammar that begin at a word, by their class. */
function findTerms(
  words: readonly Word[],
  terms: EntryIndex,
  at: number,
  number: ClassLookup,
): ReadonlyMap<string, readonly Found[]> {
  const entries = terms.byWord.get(words[at]!.norm)
  if (!entries) return NO_TERMS
  const here = new Map<string, Found[]>()
  for (const { entry, lists } of gateOf(entries)) {
    if (!occur(lists, words, at)) continue
    const match = matchBegun(entry.pattern, words, at, number)
    if (!match || touched(entry, words, at, match.end, number)) continue
    const [name = '', value = ''] = split(entry.line.is!)
    let cost = 0
    for (let i = at; i < match.end; i++) cost += words[i]!.cost
    const found: Found<Term> = { end: match.end, value: { value, entry }, cost }
    const list = here.get(name)
    if (list) list.push(found)
    else here.set(name, [found])
  }
  for (const list of here.values()) if (list.length > 1) list.sort((a, b) => b.end - a.end)
  return here.size === 0 ? NO_TERMS : here
}

const withNumbers = new WeakMap<Utterance, boolean>()

/** Whether something in an utterance may be a number, or a nuc: what hives are known by number bears on it. */
export function mayNumber(utterance: Utterance): boolean {
  let known = withNumbers.get(utterance)
  if (known === undefined) {
    const { words } = utterance
    known = words.some(
      ({ norm }, i) =>
        /^nucs?$/.test(norm) || plainNumberAt(words, i) !== undefined || readAmount(words, i) !== undefined,
    )
    withNumbers.set(utterance, known)
  }
  return known
}

/** What of some names bears on an utterance, as a text: where it is the same, the words are looked up to the same. */
export function namesBearing(utterance: Utterance, { hives, yards, misheard, known }: Names): string {
  const { words } = utterance
  let out = ''
  if (hives.size + yards.size > 0)
    for (let i = 0; i < words.length; i++) {
      let text = ''
      for (let n = 0; n < 4 && i + n < words.length; n++) {
        text = n === 0 ? words[i]!.norm : `${text} ${words[i + n]!.norm}`
        const hive = hives.get(text)
        const yard = yards.get(text)
        if (hive !== undefined || yard !== undefined)
          out += `${i} ${n} ${hive ?? ''}/${yard ?? ''}${misheard?.has(text) ? '?' : ''},`
      }
    }
  if (mayNumber(utterance)) for (const label of known) if (/\d$|^nuc$/.test(label)) out += `${label};`
  return out
}

const split = (is: string): [string, string] => [is.slice(0, is.indexOf(':')), is.slice(is.indexOf(':') + 1)]

/** Names that are known, of up to four words; the longest first. */
function namesAt(
  known: ReadonlyMap<string, string>,
  words: readonly Word[],
  at: number,
  misheard?: ReadonlyMap<string, string>,
): readonly Found[] {
  if (known.size === 0) return NONE
  let found: Found[] | undefined
  let text = ''
  for (let n = 0; n < 4 && at + n < words.length; n++) {
    text = n === 0 ? words[at]!.norm : `${text} ${words[at + n]!.norm}`
    const label = known.get(text)
    if (label === undefined) continue
    found ??= []
    found.unshift({ end: at + n + 1, value: label, cost: misheard?.has(text) ? 0.4 : 0 })
  }
  return found ?? NONE
}

/** One or two capitalised words that could be a name. */
function nameAt(words: readonly Word[], at: number): readonly Found[] {
  const word = words[at]!
  if (!/^\p{L}/u.test(word.said) || word.norm.length < 2) return []
  return [{ end: at + 1, value: word.norm, cost: 0 }]
}

/** Hives that are known by number or name: one (`hiveno`) or several in a row (`hivelist`: "1, 3 and 5", "Rowan and the nuc"). */
function hivesAt(
  words: readonly Word[],
  at: number,
  builtin: ClassLookup,
  names: Names,
  list: boolean,
): readonly Found[] {
  const labels: string[] = []
  // "hives two and three": said in so many words, they need not be known
  const told = list ? /^(hives|colonies|nucs)$/.exec(words[at - 1]?.norm ?? '')?.[1] : undefined
  let i = at
  let end = at
  for (;;) {
    const one =
      hiveAt(words, i, builtin, names) ??
      (told === undefined ? undefined : numberedAt(i, builtin, told === 'nucs' ? 'nuc ' : ''))
    if (!one) break
    labels.push(...one.labels)
    end = one.end
    if (!list) break
    const next = words[end]
    if (!next || next.brk >= Break.hard) break
    if (next.norm === 'and' || next.norm === 'or') i = end + 1
    else if (next.brk === Break.soft) i = end
    else break
  }
  if (list ? labels.length < 2 : labels.length !== 1) return []
  return [{ end, value: labels, cost: 0 }]
}

function numberedAt(at: number, builtin: ClassLookup, prefix: string): { labels: string[]; end: number } | undefined {
  const amount = builtin('int', at)[0]?.value as Amount | undefined
  if (!amount || amount.hi - amount.lo > 1) return undefined
  return {
    labels: amount.hi > amount.lo ? [`${prefix}${amount.lo}`, `${prefix}${amount.hi}`] : [`${prefix}${amount.lo}`],
    end: amount.end,
  }
}

function hiveAt(
  words: readonly Word[],
  at: number,
  builtin: ClassLookup,
  names: Names,
): { labels: string[]; end: number } | undefined {
  let i = at
  if (words[i]?.norm === 'the') i++
  if (/^(hive|number|nuc)$/.test(words[i]?.norm ?? '')) i++
  const word = words[i]
  if (!word) return undefined
  const amount = builtin('int', i)[0]?.value as Amount | undefined
  if (amount && amount.hi - amount.lo <= 1) {
    const labels: string[] = []
    for (let n = amount.lo; n <= amount.hi; n++) {
      const label = names.known.has(String(n)) ? String(n) : names.known.has(`nuc ${n}`) ? `nuc ${n}` : undefined
      if (label === undefined) return undefined
      labels.push(label)
    }
    return { labels, end: amount.end }
  }
  const name = names.hives.get(word.norm)
  if (name !== undefined) return { labels: [name], end: words[i + 1]?.norm === 'hive' ? i + 2 : i + 1 }
  if (i === at + 2 && words[at]!.norm === 'the' && words[at + 1]!.norm === 'nuc' && names.known.has('nuc'))
    return { labels: ['nuc'], end: i }
  return undefined
}

/** What may come right behind a hive's code and never behind an amount. */
const OPENS_BEHIND_CODE = /^(\d+|one|two|three|four|five|six|seven|eight|nine|ten|'s|is|has|same|goes)$/

/** A hive called by letter and number: "H3" (3), "G2", "4B", "g two". */
function codeAt(words: readonly Word[], at: number): readonly Found[] {
  const word = words[at]!.norm
  if (/^[a-z]\d{1,3}$/.test(word) || /^\d{1,3}[a-g]$/.test(word)) return [{ end: at + 1, value: word, cost: 0 }]
  const after = words[at + 1]
  const digit = oneWordNumber(after?.norm ?? '')
  const number = digit !== undefined && digit <= 12 ? String(digit) : /^\d{1,2}$/.test(after?.norm ?? '') && after!.norm
  // "a 2 2 supers", "a 4 and this is …": the article would need something to count
  const article = word === 'a' && !OPENS_BEHIND_CODE.test(words[at + 2]?.norm ?? '')
  if (number && /^[a-hj-z]$/.test(word) && !article && after!.brk === Break.none)
    return [{ end: at + 2, value: `${word}${number}`, cost: 0 }]
  return []
}

/** A hive called by a letter: "hive B". "A" and "I" count only where they stand as capitals before a border. */
function letterAt(word: Word, next: Word | undefined): readonly Found[] {
  const capital = /^[A-Z]$/.test(word.said)
  const alone = next === undefined || next.brk >= Break.soft
  if (capital ? !/^[AI]$/.test(word.said) || alone : /^[b-hj-np-rv-z]$/.test(word.said))
    return [{ end: 0, value: word.norm, cost: 0 }]
  return []
}
