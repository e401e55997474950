import { numberOfList } from './present.ts'

/**
 * The pattern language of `grammar/`: small, general, without trade knowledge.
 *
 *   say        one word                         frame/comb     one of several words
 *   word?      may be missing                   (a b / c d)    a group, alternatives cut by a slash between spaces
 *   (a b)?     a group that may be missing      <class>        whatever a term line or a built-in puts in that class
 *   <class:x>  the same under another name      ~  ~5          step over up to three (five) words, as few as possible
 *   @frame     a named word list of words.json      =a/b           one of these must come next, and is left for others
 *
 * Hesitations are stepped over everywhere; a comma may stand between any two parts, a full stop may not.
 */
export type Part =
  | { readonly kind: 'word'; readonly words: ReadonlySet<string>; readonly optional: boolean }
  | { readonly kind: 'class'; readonly name: string; readonly as: string; readonly optional: boolean }
  | {
      readonly kind: 'group'
      readonly alternatives: readonly (readonly Part[])[]
      readonly optional: boolean
      /** Worked out when first asked for: most groups never come near a note. */
      readonly first: () => FirstWords
    }
  | { readonly kind: 'skip'; readonly most: number }
  | { readonly kind: 'ahead'; readonly words: ReadonlySet<string> }

/** For each word the alternatives of a group that can begin with it; `open`: those for a word that none of them names. */
interface FirstWords {
  readonly byWord: ReadonlyMap<string, readonly (readonly Part[])[]>
  readonly open: readonly (readonly Part[])[]
}

/** Parses one `say` line. Throws a plain Error whose message names the fault; the loader adds file and line. */
export function parsePattern(source: string, lists: ReadonlyMap<string, readonly string[]>): Part[] {
  const tokens = source.match(/\(|\)\??|<[^>]+>\??|~\d*|[^\s()<>~]+/g) ?? []
  let i = 0
  const sequence = (inGroup: boolean): Part[][] => {
    const alternatives: Part[][] = [[]]
    while (i < tokens.length) {
      const token = tokens[i]!
      const now = alternatives[alternatives.length - 1]!
      if (token.startsWith(')')) {
        if (!inGroup) throw new Error(`")" without "(" in "${source}"`)
        return alternatives
      }
      i++
      if (token === '(') {
        const inside = sequence(true)
        const close = tokens[i++]
        if (close === undefined) throw new Error(`"(" is never closed in "${source}"`)
        let known: FirstWords | undefined
        const first = (): FirstWords => {
          known ??= byFirstWord(inside)
          return known
        }
        now.push({ kind: 'group', alternatives: inside, optional: close === ')?', first })
      } else if (token === '/') {
        if (!inGroup) throw new Error(`" / " stands only inside "( )", in "${source}"`)
        alternatives.push([])
      } else if (token.startsWith('=')) {
        const part = wordPart(token.slice(1), lists, source)
        if (part.kind === 'word') now.push({ kind: 'ahead', words: part.words })
      } else if (token.startsWith('~')) {
        now.push({ kind: 'skip', most: token.length > 1 ? Number(token.slice(1)) : 3 })
      } else if (token.startsWith('<')) {
        const optional = token.endsWith('?')
        const [name = '', as] = token.slice(1, optional ? -2 : -1).split(':')
        now.push({ kind: 'class', name, as: as ?? name, optional })
      } else {
        now.push(wordPart(token, lists, source))
      }
    }
    if (inGroup) throw new Error(`"(" is never closed in "${source}"`)
    return alternatives
  }
  const parts = sequence(false)[0]!
  if (parts.length === 0) throw new Error(`nothing to say in "${source}"`)
  return parts
}

/** Parts of one token, shared by all patterns of a grammar: the same few word lists recur in thousands of lines. */
const shared = new WeakMap<ReadonlyMap<string, readonly string[]>, Map<string, Part>>()

function wordPart(token: string, lists: ReadonlyMap<string, readonly string[]>, source: string): Part {
  let known = shared.get(lists)
  if (!known) {
    known = new Map()
    shared.set(lists, known)
  }
  let part = known.get(token)
  if (!part) {
    part = newWordPart(token, lists, source)
    known.set(token, part)
  }
  return part
}

function newWordPart(token: string, lists: ReadonlyMap<string, readonly string[]>, source: string): Part {
  const optional = token.endsWith('?')
  const words = new Set<string>()
  for (const word of (optional ? token.slice(0, -1) : token).split('/')) {
    if (word === '') throw new Error(`a "/" with nothing beside it in "${source}"`)
    if (!word.startsWith('@')) words.add(word)
    else {
      const list = lists.get(word.slice(1))
      if (!list) throw new Error(`no word list called "${word}" in "${source}"`)
      for (const entry of list) words.add(entry)
    }
  }
  return { kind: 'word', words, optional }
}

function byFirstWord(alternatives: readonly (readonly Part[])[]): FirstWords {
  const first = alternatives.map((alternative) => {
    const { words, classes, any } = firsts(alternative)
    return { alternative, words, anything: any || classes.size > 0 || mayBeEmpty(alternative) }
  })
  const byWord = new Map<string, (readonly Part[])[]>()
  for (const word of new Set(first.flatMap(({ words }) => [...words]))) {
    byWord.set(
      word,
      first.filter(({ words, anything }) => anything || words.has(word)).map(({ alternative }) => alternative),
    )
  }
  return { byWord, open: first.filter(({ anything }) => anything).map(({ alternative }) => alternative) }
}

const mayBeEmpty = (parts: readonly Part[]): boolean =>
  parts.every(
    (part) =>
      part.kind === 'skip' ||
      part.kind === 'ahead' ||
      part.optional ||
      (part.kind === 'group' && part.alternatives.some(mayBeEmpty)),
  )

/** The words and classes that a pattern can begin with; `any` when it may begin with anything. */
export function firsts(parts: readonly Part[]): { words: Set<string>; classes: Set<string>; any: boolean } {
  const words = new Set<string>()
  const classes = new Set<string>()
  let any = false
  const add = (sequence: readonly Part[]): boolean => {
    for (const part of sequence) {
      if (part.kind === 'skip') {
        any = true
        return false
      }
      if (part.kind === 'ahead') return true
      if (part.kind === 'word') for (const w of part.words) words.add(w)
      else if (part.kind === 'class') classes.add(part.name)
      else {
        let mayBeEmpty = false
        for (const alternative of part.alternatives) if (add(alternative)) mayBeEmpty = true
        if (mayBeEmpty) continue
      }
      if (!part.optional) return false
    }
    return true
  }
  add(parts)
  return { words, classes, any }
}

/** A pattern ready to match, with what lets most words refuse it at a glance. */
export interface Pattern {
  readonly parts: readonly Part[]
  readonly firstWords: ReadonlySet<string>
  /** Classes that it may begin with; null where it may begin with anything. */
  readonly firstClasses: readonly string[] | null
  /** Of each of these word lists (`present.ts`), one word at least must occur at the pattern's place or behind it. */
  readonly must: readonly number[]
  /** Something of each of these classes must begin there. */
  readonly classes: readonly string[]
}

/** What the build works out of a pattern beforehand, for Node (`kept.ts`): all that is asked of most patterns. */
export type Known = Pick<Pattern, 'firstWords' | 'firstClasses' | 'must' | 'classes'>

/** Parses and prepares a pattern; throws as `parsePattern` does. */
export function preparePattern(source: string, lists: ReadonlyMap<string, readonly string[]>): Pattern {
  const parts = parsePattern(source, lists)
  const head = parts[0]!
  if (head.kind === 'word' && !head.optional) return new Prepared(parts, head.words, [])
  const first = firsts(parts)
  return new Prepared(parts, first.words, first.any || head.kind === 'ahead' ? null : [...first.classes])
}

/** The words that a pattern cannot do without, whatever it begins with: of each set one, the smallest first. */
export function needsOf(parts: readonly Part[]): ReadonlySet<string>[] {
  const head = parts[0]!
  // what the index already saw of the first word needs no second look; the most telling list comes first
  return mustOf(head.kind === 'word' && !head.optional ? parts.slice(1) : parts).sort((a, b) => a.size - b.size)
}

function mustOf(parts: readonly Part[]): ReadonlySet<string>[] {
  const out: ReadonlySet<string>[] = []
  for (const part of parts) {
    if (part.kind === 'ahead' || (part.kind === 'word' && !part.optional)) out.push(part.words)
    if (part.kind === 'group' && !part.optional) {
      const inner = part.alternatives.map(mustOf)
      if (inner.length === 1) out.push(...inner[0]!)
      else if (inner.every((sets) => sets.length > 0)) out.push(new Set(inner.flatMap((sets) => [...sets[0]!])))
    }
  }
  return out
}

/** A pattern whose needs are worked out when they are first asked for: most patterns never come near a note. */
class Prepared implements Pattern {
  private needs: readonly number[] | undefined
  private names: readonly string[] | undefined

  constructor(
    readonly parts: readonly Part[],
    readonly firstWords: ReadonlySet<string>,
    readonly firstClasses: readonly string[] | null,
  ) {}

  get must(): readonly number[] {
    this.needs ??= needsOf(this.parts).map(numberOfList)
    return this.needs
  }

  get classes(): readonly string[] {
    this.names ??= [
      ...new Set(this.parts.flatMap((part) => (part.kind === 'class' && !part.optional ? [part.name] : []))),
    ]
    return this.names
  }
}
