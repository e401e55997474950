import type { Entry, Grammar } from '../grammar/grammar.ts'
import { type ClassLookup, type Found, matchPattern, mayMatch } from '../grammar/match.ts'
import { touched } from '../grammar/touch.ts'
import type { SpokenDate } from '../language/dates.ts'
import { Break, type Word } from '../language/word.ts'
import type { Candidate } from './candidates.ts'
import { ClauseWords } from './clause.ts'

/**
 * What is still to be done, by its grammar: a verb of some work with its thing, told so that it lies ahead. "I'll get her
 * marked", "new lids I have to buy", "the box gets scorched on Saturday", "on Sunday I count the mites", "leave them for
 * ten days". `tasks.json` says which verb with which thing is which work; what makes it lie ahead is decided here.
 */
export function tasksOf(words: readonly Word[], grammar: Grammar, lookup: ClassLookup): Candidate[] {
  const out: Candidate[] = []
  let clause: Tasks | undefined
  for (let i = 0; i < words.length; i++) {
    if (lookup('taskverb', i).length === 0) continue
    clause ??= new Tasks(words, lookup, grammar.tasks)
    out.push(...clause.at(i))
  }
  return out
}

/** Lines for a work without a thing: with a day ("on Friday I look in"), or with any time to come ("treat after the harvest"). */
const WITHOUT_THING: ReadonlySet<string> = new Set(['dated', 'later'])
/** Who does it, or is told to. */
const WE = /^(i|we)$/
const MODAL = /^(will|'ll|must|should|shall|gotta|gonna|better)$/
const BEFORE_TO =
  /^(have|has|got|need|needs|going|want|wants|plan|planning|ready|due|remember|is|are|'s|be|left|still)$/
/** Small words between who and what. */
const ADVERB =
  /^(just|then|now|also|again|still|probably|maybe|both|all|go|come|get|quickly|definitely|only|have|to|and|always|really|quick|be|either|myself|ourselves|up|back)$/
const LATER =
  /^(later|soon|sometime|next|when|once|before|after|spring|autumn|fall|winter|summer|until|till|tonight|tomorrow|week|weekend|month|january|february|march|april|june|july|august|september|october|november|december)$/
/** What may stand before a noun or behind a verb. */
const DETERMINERS =
  /^(the|a|an|some|another|more|my|our|its|their|her|this|that|these|those|all|of|both|any|few|me|new|old|up|out|down|off|over|empty|second|other|whole|every|each|no|for|proper|good|quick|one|two|three|four|big|little|lot|bit|couple|in|them|it|back|last|extra)$/
const GETS = /^(get|gets|getting)$/
const BE = /^(is|are|'s|'re|be|being|must|should|will|'ll|has|have|to|needs?|wants?|due|going|gonna|still)$/

class Tasks extends ClauseWords {
  private readonly things: readonly Entry[]

  constructor(words: readonly Word[], lookup: ClassLookup, things: readonly Entry[]) {
    super(words, lookup)
    this.things = things.filter(({ line, pattern }) => WITHOUT_THING.has(line.note ?? '') || mayMatch(pattern, words))
  }

  /** The works that the verb at a word may tell of. */
  at(at: number): Candidate[] {
    return this.lookup('taskverb', at).flatMap((verb) => this.byVerb(at, verb) ?? [])
  }

  private byVerb(at: number, verb: Found): Candidate | undefined {
    const [kind = '', form = ''] = (verb.value as { value: string }).value.split('-')
    if (this.isDenied(at)) return undefined
    if (kind === 'wait') return this.waiting(at, verb, form)
    if (form === 'base') return this.byBase(at, verb.end, kind)
    if (form === 'part') return this.byParticiple(at, verb.end, kind)
    return this.byIng(at, verb.end, kind)
  }

  /** "I must buy new lids", "Sunday we count the mites", "mark her next time", "these two I unite tomorrow". */
  private byBase(at: number, end: number, kind: string): Candidate | undefined {
    const mood = this.moodOf(at)
    if (!mood) return undefined
    // "rewash, three and five, on the 20th"
    const day = this.hasDay(at, kind === 'again' ? Break.hard : Break.soft)
    if (mood.by !== 'modal' && !day && !this.isLater(at)) return undefined
    const who = WE.test(this.norm(mood.from)) ? mood.from : this.back(mood.from)
    const front = WE.test(this.norm(who)) ? this.thingBefore(who, kind) : undefined
    const thing = this.thingFrom(end, kind) ?? front
    if (!thing) return undefined
    if (thing.entry.line.note === 'dated' && !day) return undefined
    if (thing.entry.line.note === 'later' && !this.isToCome(at, end, day)) return undefined
    if (mood.by === 'order' && thing.pronoun && !day) return undefined
    return this.task(Math.min(mood.from, thing.from, at), Math.max(end, thing.end), thing)
  }

  /** "Get her marked", "the box gets washed tomorrow", "the lids are to be scorched". */
  private byParticiple(at: number, end: number, kind: string): Candidate | undefined {
    let i = at - 1
    let passive = false
    let ahead = false
    while (
      i >= 0 &&
      this.inClause(i + 1) &&
      (BE.test(this.norm(i)) || GETS.test(this.norm(i)) || ADVERB.test(this.norm(i)))
    ) {
      if (GETS.test(this.norm(i)) || /^(be|being|to|needs?|wants?)$/.test(this.norm(i))) passive = true
      if (/^(to|must|should|will|'ll|needs?|wants?|gonna)$/.test(this.norm(i))) ahead = true
      i--
    }
    if (passive && i >= 0 && this.inClause(i + 1)) {
      if (!ahead && !this.hasDay(at) && !this.isLater(at)) return undefined
      const thing = this.thingEnding(i + 1, kind)
      return thing ? this.task(thing.from, end, thing) : undefined
    }
    // "I'll get the queen marked"
    const thing = this.thingEnding(at, kind)
    if (!thing) return undefined
    let get = thing.from - 1
    while (get > 0 && this.inClause(get + 1) && DETERMINERS.test(this.norm(get))) get--
    const second = /^(and|or)$/.test(this.norm(at - 1))
    if (get < 0 || !/^(get|have)$/.test(this.norm(get)) || !this.inClause(get + 1)) return undefined
    const mood = this.moodOf(get)
    if (!mood || (mood.by !== 'modal' && !this.hasDay(at) && !this.isLater(at))) return undefined
    if (this.norm(get) === 'have' && mood.by !== 'modal') return undefined
    // "clipped and marked": two works
    return this.task(second ? at : mood.from, end, thing)
  }

  /** "The floor needs scrubbing", "foundation I have none, so ordering", "buying more lids on Monday". */
  private byIng(at: number, end: number, kind: string): Candidate | undefined {
    const before = this.norm(this.back(at))
    if (/^(needs?|wants?|due)$/.test(before)) {
      const thing = this.thingEnding(this.back(at), kind)
      if (thing) return this.task(thing.from, end, thing)
      // "needs moving into a full box"
      const whither = this.inClause(end) ? this.thingAt(end, kind) : undefined
      return whither ? this.task(this.back(at), whither.end, whither) : undefined
    }
    const ours = /^(am|'m|are|'re)$/.test(before) && WE.test(this.norm(this.back(this.back(at))))
    if (before === 'so' && this.ends(end)) {
      const thing = this.named(at, kind)
      if (thing) return this.task(at, end, thing)
    }
    if (!ours && !this.opens(at)) return undefined
    if (!this.hasDay(at)) return undefined
    const thing = this.thingFrom(end, kind)
    return thing ? this.task(at, thing.end, thing) : undefined
  }

  /** "Leave them for ten days", "give it another week", "let them be till the twentieth". */
  private waiting(at: number, verb: Found, form: string): Candidate | undefined {
    const { end } = verb
    const mood =
      form === 'ing'
        ? this.opens(at) || WE.test(this.norm(this.back(this.back(at))))
          ? { from: at }
          : undefined
        : this.moodOf(at)
    if (!mood) return undefined
    let i = this.over(end)
    const whom = this.lookup('dobj', i)[0] ?? (/^(us)$/.test(this.norm(i)) ? { end: i + 1 } : undefined)
    if (whom) i = this.over(whom.end)
    // "leave alone for a week", "hands off till the twentieth" need not say whom
    else if (!/^wait/.test(this.norm(at)) && end === at + 1 && !/^(alone|be|well)$/.test(this.norm(i))) return undefined
    while (
      this.inClause(i) &&
      /^(be|alone|in|peace|well|now|to|it|settle|shut|closed|just|only|another|about|have|good|undisturbed|sit|there|again|at|all)$/.test(
        this.norm(i),
      ) &&
      !this.spanAt(i)
    )
      i = this.over(i + 1)
    const span = this.spanAt(i)
    const head = this.things.find((entry) => entry.line.task === 'wait')
    if (!span || !head) return undefined
    // "give her a week": as it may be said of anything
    if (
      /^giv/.test(this.norm(at)) &&
      !/^(another|for|till|until)$/.test(this.norm(i)) &&
      !/^(then|and|before|to)$/.test(this.norm(span.end))
    )
      return undefined
    const captures = { date: { value: span, start: i, end: span.end, cost: 0 } }
    const day = { field: head.gives[0]!.field, value: '$date', deny: null }
    return this.candidate(head, mood.from, span.end, captures, [day])
  }

  /** "For ten days", "another week", "till the twentieth". */
  private spanAt(at: number): SpokenDate | undefined {
    let i = at
    if (/^(for|another)$/.test(this.norm(i))) i = this.over(i + 1)
    if (/^(about|another|maybe|say)$/.test(this.norm(i))) i = this.over(i + 1)
    const number = /^(a|one)$/.test(this.norm(i)) ? 1 : Number((this.lookup('int', i)[0]?.value as { lo?: number })?.lo)
    const next = number === 1 && this.norm(i) === 'a' ? i + 1 : (this.lookup('int', i)[0]?.end ?? i + 1)
    const bare = this.norm(at) === 'another' && /^(weeks?|fortnight)$/.test(this.norm(at + 1))
    const unit = bare ? at + 1 : this.norm(next) === 'more' ? next + 1 : next
    const days = { day: 1, days: 1, week: 7, weeks: 7, fortnight: 14 }[this.norm(unit)]
    if (days !== undefined && (bare || number > 0) && !/^(ago|old|back|today|from)$/.test(this.norm(unit + 1)))
      return { spec: { kind: 'days', days: days * (bare ? 1 : number) }, end: unit + 1 }
    const day = this.lookup('date', at)[0]
    return day && /^(for|until|till|to|in|another)$/.test(this.norm(at)) ? (day.value as SpokenDate) : undefined
  }

  /** What makes a verb lie ahead: "I will", "must", "have to"; who stands before it; or nobody, so that it is an order. */
  private moodOf(at: number): { from: number; by: 'modal' | 'we' | 'order' } | undefined {
    let i = at - 1
    while (
      i >= 0 &&
      this.inClause(i + 1) &&
      (this.words[i]!.filler || (ADVERB.test(this.norm(i)) && this.norm(i) !== 'to' && this.norm(i) !== 'have'))
    )
      i--
    // "do not open it till the tenth"
    if (this.norm(at) === 'not' && /^(do|you)$/.test(this.norm(i))) i--
    if (i < 0 || !this.inClause(i + 1)) return this.orders(i + 1, at)
    const word = this.norm(i)
    if (word === 'to' && BEFORE_TO.test(this.norm(this.back(i)))) {
      const who = this.norm(this.back(this.back(i)))
      return OTHERS.test(who) ? undefined : { from: this.back(i), by: 'modal' }
    }
    if (MODAL.test(word)) return OTHERS.test(this.norm(i - 1)) ? undefined : { from: i, by: 'modal' }
    if (WE.test(word))
      return /^(do|did|shall|should|if|can|could|would|when|before|until|till)$/.test(this.norm(i - 1))
        ? undefined
        : { from: i, by: 'we' }
    if (/^(and|so|then|now|okay|right|plus)$/.test(word) && i === at - 1) return this.orders(at, at)
    if (this.words[i + 1]!.brk === Break.inferred) return this.orders(i + 1, at)
    return this.dayEnding(i + 1) === undefined ? undefined : { from: i + 1, by: 'order' }
  }

  private orders(from: number, at: number): { from: number; by: 'order' } | undefined {
    return this.words[from] === undefined || from > at ? undefined : { from, by: 'order' }
  }

  /** The day that ends where a verb begins: "Friday split it". */
  private dayEnding(end: number): number | undefined {
    for (let i = Math.max(0, end - 6); i < end; i++) if (this.lookup('date', i)[0]?.end === end) return i
    return undefined
  }

  /** The thing behind a verb, past what may stand before a noun. */
  private thingFrom(from: number, kind: string): Thing | undefined {
    let i = this.over(from)
    for (let n = 0; n < 6; n++) {
      const hit = this.inClause(i) ? this.thingAt(i, kind) : undefined
      if (hit) return hit
      const number = this.lookup('n', i)[0]
      if (
        !this.inClause(i) ||
        !(
          DETERMINERS.test(this.norm(i)) ||
          number ||
          this.lookup('dmod', i).length > 0 ||
          this.lookup('dadj', i).length > 0
        )
      )
        break
      i = this.over(number?.end ?? i + 1)
    }
    const head = this.things.find((entry) => entry.line.task === kind && WITHOUT_THING.has(entry.line.note ?? ''))
    return head && this.lookup('dobj', from).length === 0 ? this.alone(head, from) : undefined
  }

  /** A work that needs no thing ("on Friday I come back"): at the end of its clause, or before who is seen or why. */
  private alone(entry: Entry, at: number): Thing | undefined {
    const goesOn =
      /^(again|and|to|if|whether|how|then|with|on|in|next|at|what|more|for|out|here|over|by|round|them|that|this|after|once|when|before|until|till)$/
    if (!this.ends(at) && !goesOn.test(this.norm(at)) && this.lookup('date', at).length === 0) return undefined
    return { from: at, end: at, entry, captures: {}, pronoun: false }
  }

  private thingAt(at: number, kind: string): Thing | undefined {
    if (this.words[at] === undefined) return undefined
    let best: Thing | undefined
    for (const entry of this.things) {
      if (entry.line.task !== kind || WITHOUT_THING.has(entry.line.note ?? '')) continue
      const match = matchPattern(entry.pattern, this.words, at, this.lookup, true)
      if (!match || (best && match.end <= best.end) || touched(entry, this.words, at, match.end, this.lookup)) continue
      best = { from: at, end: match.end, entry, captures: match.captures, pronoun: entry.line.note === 'pronoun' }
    }
    return best
  }

  /** The thing that ends where a word stands, behind it or right before. */
  private thingEnding(end: number, kind: string): Thing | undefined {
    let to = end
    while (
      to > 0 &&
      (this.words[to - 1]!.filler ||
        /^(all|both|and|up|out|down|either)$/.test(this.norm(to - 1)) ||
        this.isDone(to - 1))
    )
      to--
    for (let i = Math.max(0, to - 5); i < to; i++) {
      const hit = this.thingAt(i, kind)
      if (hit && (hit.end === to || hit.end === end) && this.inClause(i + 1)) return hit
    }
    return undefined
  }

  private isDone(at: number): boolean {
    return /^(and|or)$/.test(this.norm(at + 1)) && this.lookup('taskverb', at).length > 0
  }

  /** The thing before "I" or "we": "new lids I have to buy". */
  private thingBefore(at: number, kind: string): Thing | undefined {
    const hit = this.thingEnding(at, kind)
    if (!hit || hit.pronoun) return undefined
    let from = hit.from
    while (
      from > 0 &&
      this.words[from]!.brk < Break.soft &&
      (DETERMINERS.test(this.norm(from - 1)) || this.lookup('dmod', from - 1).length > 0)
    )
      from--
    return from === 0 || this.words[from]!.brk >= Break.inferred || /^(and|so|then|the)$/.test(this.norm(from - 1))
      ? hit
      : undefined
  }

  /** The thing named last, a few words back. */
  private named(at: number, kind: string): Thing | undefined {
    for (let i = at - 1; i >= 0 && i > at - 9 && this.words[i + 1]!.brk < Break.hard; i--) {
      const hit = this.words[i]!.brk < Break.hard || i === 0 ? this.nounAt(i, kind) : undefined
      if (hit) return { ...hit, from: at, end: at }
    }
    return undefined
  }

  private nounAt(at: number, kind: string): Thing | undefined {
    for (const entry of this.things) {
      if (entry.line.task !== kind || entry.line.note !== undefined) continue
      const match = matchPattern(entry.pattern, this.words, at, this.lookup, true)
      if (match) return { from: at, end: match.end, entry, captures: match.captures, pronoun: false }
    }
    return undefined
  }

  private task(from: number, end: number, thing: Thing): Candidate | undefined {
    for (let i = from; i < end; i++) if (this.lookup('date', i).length > 0) return undefined
    return this.candidate(thing.entry, from, end, thing.captures, thing.entry.gives)
  }

  private isDenied(at: number): boolean {
    for (let i = at - 1; i >= 0 && i >= at - 4 && this.inClause(i + 1); i--)
      if (/^(not|n't|never|no|without|did|used|if)$/.test(this.norm(i))) return true
    return false
  }

  /** Whether a day to come is named in the clause of a word, or in the one before that opens with it. */
  private hasDay(at: number, border = Break.soft): boolean {
    const [from, to] = this.clause(at, border)
    for (let i = from; i < to; i++)
      if (this.lookup('date', i).length > 0 && !/^(last|since)$/.test(this.norm(i - 1))) return true
    // "in two weeks, June the 24th, I check the row"
    return from > 0 && this.words[from]!.brk < Break.hard && this.dayEnding(from) !== undefined
  }

  /** Whether a work without a thing has a time: "treat after the harvest"; "if there are cells then split" has none. */
  private isToCome(at: number, end: number, day: boolean): boolean {
    for (let i = at - 1; i >= 0 && i > at - REACH; i--) if (/^(if|unless)$/.test(this.norm(i))) return false
    return day || LATER.test(this.norm(this.over(end))) || this.isLater(at)
  }

  private isLater(at: number): boolean {
    const [from, to] = this.clause(at)
    for (let i = from; i < to; i++)
      if (LATER.test(this.norm(i)) && !/^(last|every|each)$/.test(this.norm(i - 1))) return true
    return false
  }

  /** The clause of a word; where nothing is marked, a few words about it. */
  private clause(at: number, border = Break.soft): [number, number] {
    let from = at
    while (from > 0 && at - from < REACH && this.words[from]!.brk < border) from--
    let to = at + 1
    while (to < this.words.length && to - at < REACH && this.words[to]!.brk < border) to++
    return [from, to]
  }

  private opens(at: number): boolean {
    const before = this.words[at - 1]
    if (before === undefined || this.words[at]!.brk >= Break.inferred) return true
    return before.filler ? this.opens(at - 1) : /^(and|so|then|now|okay|right|plus|also|just)$/.test(before.norm)
  }

  private ends(at: number): boolean {
    return this.words[at] === undefined || this.words[at]!.brk >= Break.inferred
  }

  private back(at: number): number {
    let i = at - 1
    while (i >= 0 && (this.words[i]!.filler || /^(just|then|also|all|both|still)$/.test(this.norm(i)))) i--
    return i
  }
}

const OTHERS = /^(they|bees|she|girls|you|people|queen|who|which|neighbour|inspector|swarm|workers|he)$/

/** How far off, in words, a day may stand that belongs to a verb. */
const REACH = 9

interface Thing {
  readonly from: number
  readonly end: number
  readonly entry: Entry
  readonly captures: Candidate['match']['captures']
  /** Only "it", "them" or the like. */
  readonly pronoun: boolean
}
