import type { Hearing } from './hearing.ts'
import type { Kept } from './kept.ts'
import type { Give, Line } from './line.ts'
import type { Part, Pattern } from './pattern.ts'
import { preparePattern } from './pattern.ts'

/** One `say` of one grammar line, ready to match. */
export interface Entry {
  /** `file:line`, as shown in evidence. */
  readonly id: string
  readonly line: Line
  readonly pattern: Pattern
  readonly gives: readonly Give[]
  readonly unless: readonly Pattern[]
  readonly near: readonly Pattern[]
  readonly before: Pattern | undefined
  readonly after: Pattern | undefined
  /** Position in the grammar: the last tie-breaker. */
  readonly order: number
}

/** Entries by the word or class they can begin with. */
export interface EntryIndex {
  readonly byWord: ReadonlyMap<string, readonly Entry[]>
  readonly byClass: ReadonlyMap<string, readonly Entry[]>
}

export interface Grammar {
  /** Lines with `is`: words to classes. */
  readonly terms: EntryIndex
  /** Lines with a meaning. */
  readonly phrases: EntryIndex
  /** Lines with `cue`. */
  readonly cues: EntryIndex
  /** Lines with `deed`: things that something is done with. */
  readonly deeds: readonly Entry[]
  /** Lines with `task`: things that some work is to be done with. */
  readonly tasks: readonly Entry[]
  /** Lines of mishearings.json and spelling.json. */
  readonly repairs: EntryIndex
  readonly fillers: EntryIndex
  /** Words that may begin a clause with nothing marking it. */
  readonly starters: EntryIndex
  /** Every word that a pattern or a list names. */
  readonly words: ReadonlySet<string>
  /** How the trade talks and sounds, and the everyday words; without it nothing is put right by sound. */
  readonly hearing?: Hearing | undefined
}

/** A grammar source: file name (without folder) to its parsed JSON. */
export type GrammarFiles = Readonly<Record<string, unknown>>

/** The word lists that patterns name by `@`. */
export function listsIn(files: GrammarFiles): ReadonlyMap<string, readonly string[]> {
  const lists = new Map<string, readonly string[]>()
  for (const [name, list] of Object.entries(files['words.json'] ?? {}))
    if (Array.isArray(list)) lists.set(name, list.map(String))
  return lists
}

/** What the entries of a line are for. */
export function kindOf(file: string, line: Line) {
  if (file === 'mishearings.json' || file === 'spelling.json' || file === 'own words.json') return 'repairs'
  if (file === 'fillers.json') return 'fillers'
  if (file === 'starters.json') return 'starters'
  return line.cue ? 'cues' : line.deed ? 'deeds' : line.task ? 'tasks' : line.is ? 'terms' : 'phrases'
}

/** Compiles a grammar that has no faults (`check.ts`). `kept`: what is known of these very files beforehand. */
export function compileGrammar(files: GrammarFiles, kept: Kept | null = null): Grammar {
  const lists = listsIn(files)
  const build = {
    terms: new Builder(),
    phrases: new Builder(),
    cues: new Builder(),
    deeds: new Builder(),
    tasks: new Builder(),
    repairs: new Builder(),
    fillers: new Builder(),
    starters: new Builder(),
  }
  let order = 0
  const prepare = (source: string): Pattern => preparePattern(source, lists)
  for (const [file, lines] of Object.entries(files)) {
    if (file === 'words.json') continue
    for (const [index, line] of (lines as Line[]).entries()) {
      const id = `${file.replace('.json', '')}:${index + 2}`
      const gives =
        line.gives ??
        (line.field === undefined
          ? []
          : [
              {
                field: line.field,
                value: line.value ?? 'yes',
                ...(line.deny === undefined ? {} : { deny: line.deny }),
                ...(line.at ? { at: line.at } : {}),
              },
            ])
      const around = new Around(line, prepare)
      const kind = kindOf(file, line)
      for (const say of typeof line.say === 'string' ? [line.say] : line.say) {
        const pattern = kept?.pattern(order, say, lists) ?? prepare(say)
        build[kind].add(new Saying(id, line, gives, order++, pattern, around))
      }
    }
  }
  return {
    terms: build.terms.index(),
    phrases: build.phrases.index(),
    cues: build.cues.index(),
    deeds: build.deeds.entries,
    tasks: build.tasks.entries,
    repairs: build.repairs.index(),
    fillers: build.fillers.index(),
    starters: build.starters.index(),
    words: kept?.words() ?? wordsOf(build),
  }
}

/** What must, or must not, stand around a line's words. Most lines are never met in a note: it is prepared when first asked for. */
class Around implements Pick<Entry, 'unless' | 'near' | 'before' | 'after'> {
  private readonly known: { -readonly [K in 'unless' | 'near' | 'before' | 'after']?: Entry[K] } = {}

  constructor(
    private readonly line: Line,
    private readonly prepare: (source: string) => Pattern,
  ) {}

  get unless() {
    this.known.unless ??= (this.line.unless ?? []).map(this.prepare)
    return this.known.unless
  }
  get near() {
    this.known.near ??= (this.line.near ?? []).map(this.prepare)
    return this.known.near
  }
  get before() {
    if (this.line.before) this.known.before ??= this.prepare(this.line.before)
    return this.known.before
  }
  get after() {
    if (this.line.after) this.known.after ??= this.prepare(this.line.after)
    return this.known.after
  }
}

class Saying implements Entry {
  constructor(
    readonly id: string,
    readonly line: Line,
    readonly gives: readonly Give[],
    readonly order: number,
    readonly pattern: Pattern,
    private readonly around: Around,
  ) {}
  get unless() {
    return this.around.unless
  }
  get near() {
    return this.around.near
  }
  get before() {
    return this.around.before
  }
  get after() {
    return this.around.after
  }
}

function wordsOf(build: Record<string, Builder>): ReadonlySet<string> {
  const out = new Set<string>()
  const add = (parts: readonly Part[]): void => {
    for (const part of parts) {
      if (part.kind === 'word') for (const word of part.words) out.add(word)
      else if (part.kind === 'group') part.alternatives.forEach(add)
    }
  }
  for (const builder of Object.values(build)) for (const entry of builder.entries) add(entry.pattern.parts)
  return out
}

class Builder {
  readonly entries: Entry[] = []
  private readonly byWord = new Map<string, Entry[]>()
  private readonly byClass = new Map<string, Entry[]>()
  add(entry: Entry): void {
    const { firstWords, firstClasses } = entry.pattern
    this.entries.push(entry)
    for (const word of firstWords) push(this.byWord, word, entry)
    for (const name of firstClasses ?? []) push(this.byClass, name, entry)
  }
  index(): EntryIndex {
    return { byWord: this.byWord, byClass: this.byClass }
  }
}

function push<K, V>(map: Map<K, V[]>, key: K, value: V): void {
  const list = map.get(key)
  if (list) list.push(value)
  else map.set(key, [value])
}
