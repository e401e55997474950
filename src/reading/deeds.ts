import type { Entry, Grammar } from '../grammar/grammar.ts'
import type { Give } from '../grammar/line.ts'
import { type ClassLookup, type Found, matchPattern, mayMatch } from '../grammar/match.ts'
import { touched } from '../grammar/touch.ts'
import type { Amount } from '../language/amounts.ts'
import { Break, type Word } from '../language/word.ts'
import type { Candidate } from './candidates.ts'
import { ClauseWords } from './clause.ts'

/**
 * Deeds by their grammar and not by the phrase: what is done (put on, given, taken off, swapped, needed) to what thing,
 * with the amount that stands in the thing's own words. `deeds.json` says which things there are and what putting one on
 * or taking it off amounts to; how a clause is built is decided here. Tense, denial and plans are the standing's.
 */
export function deedsOf(words: readonly Word[], grammar: Grammar, lookup: ClassLookup): Candidate[] {
  const things = grammar.deeds.filter((entry) => mayMatch(entry.pattern, words))
  if (things.length === 0) return []
  const clause = new Clauses(words, lookup, things)
  const out: Candidate[] = []
  for (let i = 0; i < words.length; i++) {
    clause.byVerb(i, out)
    clause.byParticle(i, out)
    clause.byThing(i, out)
  }
  return out
}

/** Something that is put on, given or taken off, with the words before it that say how much. */
interface Thing {
  readonly from: number
  readonly end: number
  readonly amount: (Found<Amount> & { start: number }) | undefined
  readonly definite: boolean
  /** Said to be one more, or another in place of the old. */
  readonly fresh: boolean
  /** "A frame": one, though no number is said. */
  readonly single: boolean
  readonly heads: readonly { entry: Entry; captures: Candidate['match']['captures'] }[]
}

type Doing = 'add' | 'take' | 'move' | 'make' | 'wreck' | 'need' | 'plan' | 'plan out'

const GOES_IN = /^(in|on|onto|into|over|under|underneath|between|inside|across|below|beneath|above)$/
const GOES_OUT = /^(off|out|away|home)$/
const MOVES = /^(up|down|across|over|above)$/
const BE = /^(is|are|'s|was|were|has|have|'ve|had|been|being|got|getting|get|gets|all|now|just|then|both|to|be|have)$/
const RUNS_UP =
  /^(i|we|have|'ve|has|had|just|also|only|already|quickly|'m|am|are|'re|is|'s|was|were|been|being|all|got|get|getting|gets)$/
const NOT_US =
  /^(they|bees|bee|she|girls|queen|it|he|you|people|beekeepers|neighbour|neighbor|swarm|who|inspector|everyone|everybody|someone|somebody|folk|folks|his|workers)$/
const PASSIVE = /^(been|was|were|being|got|get|getting|gets)$/
const AHEAD = /^(will|'ll|must|should|shall|gonna|need|needs|want|wants|going|to|gotta)$/
const TIMED = /^(once|when|after|until|till|before|if|whenever)$/
const IT = /^(it|them|that|those|this|these)$/
const LEADS_ON =
  /^(of|in|on|onto|with|for|to|from|has|have|'ve|had|got|get|gets|the|a|an|are|is|was|were|'s|'re|'m|see|than|or|no|not|n't|at|by|about|their|its|her|my|under|over|above|below|between|through|till|until|per|only|just|still|this|that|these|those|there|i|we|they|it|she|he|you|if|when|how|many|some|any|like|as|into|off|out|near|nearly|almost|full|one|two|three|four|five|six|seven|eight|nine|ten|every|each)$/
const LOOK = /^(look|see|get|check|inspect|find)$/

const DEED = /^(did|todo)\./
/** Things that go in to stay: "two strips in" is all that need be said. */
const SHORT = /^did\.(treat|addTrap|removeTreatment|removeFrames|feed|takeHoney|clean|addMouseGuard|reduceEntrance)$/
/** What is told in frames, and a comb said without a number is one. */
const FRAMES = /^did\.(addFrames|removeFrames|takeHoney)$/
/** Verbs and words of what comes off or out to stay out. */
const FOR_GOOD =
  /^(removed|culled|binned|scrapped|ditched|retired|discarded|stripped|confiscated|away|home|old|black|mouldy|moldy|broken|worst|dark|manky|ruined|slimed|slimy|replaced|nuc|freezer|good)$/
/** Where what is taken home is put. */
const ELSEWHERE =
  /^(shed|truck|ute|trailer|van|car|boot|barrow|wheelbarrow|garage|house|kitchen|freezer|bin|skip|bonfire|extractor|spinner|workshop|store|storeroom|cellar|barn|bakkie|pickup|tailgate|quad|bike)$/
/** Things that come off at every visit. */
const STACKED = /^did\.(add|remove)(Box|Excluder)$/
/** Things of which a hive has some already. */
const STANDS = /^did\.(addBox|addFrames)$/

class Clauses extends ClauseWords {
  private readonly things: readonly Entry[]
  private readonly known = new Map<number, Thing | null>()

  constructor(words: readonly Word[], lookup: ClassLookup, things: readonly Entry[]) {
    super(words, lookup)
    this.things = things
  }

  /** "Put another super on", "gave them two litres of syrup", "pulled out the strips", "needs a box". */
  byVerb(at: number, out: Candidate[]): void {
    const verb = this.verbAt(at)
    if (!verb) return
    const { end, value } = verb
    const [kind = '', said = ''] = value.split('-')
    const form = this.norm(at).endsWith('ing') ? 'ing' : said
    if (kind === 'with' && !this.returns(at)) return
    if (!this.isOurs(at, kind)) return
    let i = this.over(end)
    if (kind === 'swap') return this.swap(at, i, out)
    if (kind === 'get' && /^(i|we)$/.test(this.before(at))) return
    let particle = ''
    // "pulled out the strips", "put in two frames"
    if (this.inClause(i) && /^(in|on|out|off|up|down|over|under|back|away)$/.test(this.norm(i))) {
      particle = this.norm(i)
      i = this.over(i + 1)
    }
    let got = this.thingAt(i)
    if (!got && particle === '') {
      const whom = this.longest('drecip', i) ?? this.longest('dobj', i)
      const to = whom && this.over(whom.end)
      if (to !== undefined) got = this.thingAt(this.norm(to) === 'with' ? this.over(to + 1) : to)
      if (got && !/^(give|need|have|bring|get|put)$/.test(kind)) return
      if (!got) return this.byPronoun(at, i, kind, form, out)
    }
    // what is brought is bought or fetched, unless it is brought to them
    if (!got || (kind === 'bring' && got.from === i)) return
    for (let n = 0; n < 4 && got; n++) {
      const behind = this.behind(got, particle)
      const doing = this.doing(kind, form, got, behind.particle, at)
      if (doing) this.add(n === 0 ? this.runUp(at) : got.from, behind.end, got, doing, out)
      // "… and an excluder under it"
      let next = behind.end
      const border = this.words[next]
      if (border === undefined || border.brk === Break.hard) return
      if (/^(and|plus|with)$/.test(border.norm)) next = this.over(next + 1)
      else if (border.brk < Break.soft) return
      got = this.thingAt(next)
      if (got && this.isVerbal(got.end)) return
      particle = ''
    }
  }

  /** "The strips were still in so I took them out": what was named last is meant. */
  private byPronoun(at: number, i: number, kind: string, form: string, out: Candidate[]): void {
    if (!IT.test(this.norm(i)) || form === 'base') return
    const got = this.lastThing(at)
    if (!got) return
    const behind = this.behind({ ...got, end: i + 1, definite: false }, '')
    const isPut = kind === 'put' && GOES_IN.test(behind.particle)
    const isTaken = (kind === 'take' || kind === 'lift') && GOES_OUT.test(behind.particle) && !this.looksOn(behind.end)
    if (isPut || isTaken) this.add(at, behind.end, { ...got, definite: isPut }, isPut ? 'add' : 'take', out)
  }

  /** The thing named last before a word, a sentence back at most. */
  private lastThing(before: number): Thing | undefined {
    for (let i = before - 1; i >= 0 && i >= before - 14; i--) {
      const got = this.thingAt(i)
      if (!got || got.end > before) continue
      let from = i
      while (from > 0 && this.thingAt(from - 1)?.end === got.end) from--
      return this.thingAt(from)
    }
    return undefined
  }

  /** "Out come the strips", "on goes the excluder". */
  byParticle(at: number, out: Candidate[]): void {
    if (!/^(in|on|out|off)$/.test(this.norm(at))) return
    const i = this.over(at + 1)
    if (!this.inClause(i) || !/^(go|goes|went|come|comes|came)$/.test(this.norm(i))) return
    if (/^come|^came/.test(this.norm(i)) && /^(in|on)$/.test(this.norm(at))) return
    const got = this.thingAt(this.over(i + 1))
    if (got) this.add(at, got.end, got, GOES_OUT.test(this.norm(at)) ? 'take' : 'add', out)
  }

  /** "Strips are in", "the top box has come away", "two old combs out", "the old frames I took out". */
  byThing(at: number, out: Candidate[]): void {
    const opens = this.opens(at)
    const led = /^(from|with|plus)$/.test(this.norm(at - 1))
    if (!opens && !led && !this.mayOpen(at)) return
    const got = this.thingAt(at)
    // "left alone apart from a fresh box underneath"
    if (!got || (led && !opens && !got.fresh)) return
    let i = this.over(got.end)
    if (this.inClause(i) && /^(i|we)$/.test(this.norm(i))) return this.fronted(at, i, got, out)
    if (this.inClause(i) && /^(from|off|with)$/.test(this.norm(i))) i = this.pastPlace(i)
    let aux = ''
    for (let n = 0; n < 4 && this.inClause(i) && BE.test(this.norm(i)); n++) {
      aux = `${aux} ${this.norm(i)}`
      i = this.over(i + 1)
    }
    // "strips to go in", "super to be taken off"
    const ahead = /^( (is|are|'s))? to$/.test(aux)
    if (!ahead && /\b(had|get|gets|getting|be|to)\b/.test(aux)) return
    let moved = ''
    if (this.inClause(i)) {
      const verb = this.verbAt(i)
      if (/^(gone|went|going|goes|go|come|came|comes|coming)$/.test(this.norm(i))) moved = this.norm(i)
      else if (verb && /-past$/.test(verb.value)) {
        moved = verb.value
        // "two frames of stores gave them a litre": another clause, which nothing marks
        if (aux === '' && this.isActive(verb.end)) return
        if (moved.startsWith('swap')) return this.exchange(at, verb.end, got, out)
      } else if (/^(done|finished|given|complete|completed)$/.test(this.norm(i)) && fieldOf(got) === 'did.treat')
        moved = 'give-past'
      if (moved) i = this.over(verb && moved === verb.value ? verb.end : i + 1)
    }
    const leaves = this.inClause(i) && /^(away|home)$/.test(this.norm(i)) && /^goes|^comes/.test(moved)
    if (
      /^(go|goes|come|comes)$/.test(moved) &&
      !ahead &&
      !leaves &&
      (got.definite || this.words.some((word) => TIMED.test(word.norm)))
    )
      return
    if (this.inClause(i) && /^(back|straight|right)$/.test(this.norm(i)) && this.inClause(i + 1)) i = this.over(i + 1)
    // "super next week", "strips on the tenth": a thing and its day
    if (moved === '' && aux === '' && opens && !got.definite && this.inClause(i)) {
      const day = this.lookup('date', i)[0]
      if (day && this.ends(day.end) && !/^(today|now)$/.test(this.norm(i)))
        return this.add(at, got.end, got, 'plan', out)
    }
    const particle = this.inClause(i) ? this.norm(i) : ''
    if (particle === 'into' && /Frames$/.test(fieldOf(got))) return
    const goesIn = GOES_IN.test(particle)
    const goesOut = GOES_OUT.test(particle) && !(particle === 'out' && this.norm(i + 1) === 'of' && moved === '')
    const end = goesIn || goesOut ? i + 1 : i
    if (ahead) {
      if (moved === '' || (!goesIn && !goesOut)) return
      return this.add(at, end, got, goesIn ? 'plan' : 'plan out', out)
    }
    if (MOVES.test(particle) && /^(to|over|into|above|from|a)$/.test(this.norm(i + 1)) && (moved || particle === 'up'))
      return this.add(at, i + 1, got, 'move', out)
    if (moved) {
      if (moved.startsWith('wreck')) this.add(at, end, got, 'wreck', out)
      else if (moved.startsWith('make')) {
        if (!got.definite) this.add(at, end, got, 'make', out)
      } else if (goesOut || (moved.startsWith('take') && !goesIn)) this.add(at, end, got, 'take', out)
      else if (goesIn || /^(put|give)/.test(moved)) this.add(at, end, got, 'add', out)
      return
    }
    // what is on or off a hive may have been so for long, and a box that is off goes back: only what is new in there is told so
    if (!goesIn && !goesOut) return
    const told = got.amount !== undefined || got.fresh
    const bare = aux === '' && (goesOut || this.ends(end) || (opens && told)) && !got.definite
    const treated =
      goesIn && opens && /^ ('s|is|are|now|all)/.test(aux) && this.ends(end) && fieldOf(got) === 'did.treat'
    const gone = goesOut && aux !== ' was' && aux !== ' were' && this.isElsewhere(end)
    if (bare || treated || gone) this.add(at, end, got, goesIn ? 'add' : 'take', out, !gone)
  }

  /** Whether something is done to what follows a verb: "gave them", "took the", "put another". */
  private isActive(at: number): boolean {
    const i = this.over(at)
    return (
      this.inClause(i) &&
      (/^(them|it|her|him|a|an|the|another|this|these|those)$/.test(this.norm(i)) || this.thingAt(i) !== undefined)
    )
  }

  /** "A frame from the freezer went in": where the words go on behind those that say which one. */
  private pastPlace(at: number): number {
    for (let i = at + 1; i < at + 7 && this.inClause(i); i++)
      if (/^(went|gone|goes|going|came|come|has|have|'s|is|are|was|were)$/.test(this.norm(i))) return i
    return at
  }

  /** "The old frames I took out", "two of them I'm moving up". */
  private fronted(at: number, from: number, got: Thing, out: Candidate[]): void {
    let i = from
    while (this.inClause(i) && /^(i|we|'m|am|have|'ve|are|'re|just|had)$/.test(this.norm(i))) i = this.over(i + 1)
    const verb = this.inClause(i) ? this.verbAt(i) : undefined
    if (!verb) return
    const [kind = ''] = verb.value.split('-')
    let end = this.over(verb.end)
    if (this.inClause(end) && IT.test(this.norm(end))) end = this.over(end + 1)
    else if (this.inClause(end) && this.thingAt(end)) return
    const { particle, end: to } = this.behind({ ...got, end: verb.end === end ? verb.end : end, definite: false }, '')
    const doing = this.doing(kind, 'past', { ...got, definite: false }, particle, i)
    if (doing && particle !== '' && this.ends(to)) this.add(at, to, { ...got, definite: false }, doing, out)
  }

  private swap(at: number, from: number, out: Candidate[]): void {
    const got = this.thingAt(/^(out|over)$/.test(this.norm(from)) ? this.over(from + 1) : from)
    if (got) this.exchange(at, got.end, got, out)
  }

  /** "Swapped two black combs for foundation": out and in, as many as were named. */
  private exchange(at: number, from: number, got: Thing, out: Candidate[]): void {
    let i = this.over(from)
    if (this.inClause(i) && /^(out|over)$/.test(this.norm(i))) i = this.over(i + 1)
    if (!this.inClause(i) || !/^(for|with|by)$/.test(this.norm(i))) return
    const other = this.thingAt(this.over(i + 1))
    const old = got.heads.find(({ entry }) => entry.line.deed === 'take' && /Frames/.test(entry.gives[0]!.field))
    const fresh = got.heads.find(({ entry }) => entry.line.deed === 'add' && /Frames/.test(entry.gives[0]!.field))
    if (!old || !fresh) {
      if (other || /^(a|fresh|new|another|clean)$/.test(this.norm(this.over(i + 1))))
        for (const head of got.heads)
          if (head.entry.line.deed === 'add' && SHORT.test(head.entry.gives[0]!.field))
            this.push(at, other?.end ?? i + 1, head, undefined, givesFor(head.entry, undefined), out)
      return
    }
    const n = got.amount ?? other?.amount
    const end = other?.end ?? i + 1
    this.push(at, end, old, n, [...givesFor(old.entry, n), ...givesFor(fresh.entry, other?.amount ?? n)], out)
  }

  private add(from: number, end: number, got: Thing, doing: Doing, out: Candidate[], weak = false): void {
    const wanted = doing === 'need' || doing === 'plan' ? 'add' : doing === 'plan out' ? 'take' : doing
    const isPlan = doing !== wanted
    for (const head of got.heads) {
      if (head.entry.line.deed !== wanted) continue
      const field = head.entry.gives[0]!.field
      // "two supers off": more than one is never just set aside
      const several = (got.amount?.value.lo ?? 0) > 1 && field === 'did.removeBox' && this.norm(end - 1) === 'off'
      // "that's another super on"
      const shown = field === 'did.addBox' && this.norm(from - 1) === "'s" && this.norm(from - 2) === 'that'
      const more = /^did\.add(Box|Excluder)$/.test(field) && got.fresh
      if (weak && !SHORT.test(field) && !several && !shown && !more) continue
      // "put the frame back", "put that super down": one that was there before
      if (doing === 'add' && got.definite && STANDS.test(field) && !this.isAhead(from)) continue
      if (head.entry.unless.length > 0 && touched(head.entry, this.words, from, end, this.lookup)) continue
      if (wanted === 'take' && STACKED.test(field) && !this.isForGood(from, end)) continue
      // a comb comes out at every look; honey that is taken is counted
      if (wanted === 'take' && field === 'did.removeFrames' && !isPlan && !this.isForGood(from, end)) continue
      const one = got.amount === undefined && got.single && FRAMES.test(field)
      if (FRAMES.test(field) && doing !== 'move' && got.amount === undefined && !one && !isPlan) continue
      // "one more super" is a super
      const amount = /Box$/.test(field) && got.amount?.value.lo === 1 ? undefined : got.amount
      const gives = one
        ? head.entry.gives.map((give) => (give.value === '$n' ? { ...give, value: 1 } : give))
        : givesFor(head.entry, amount)
      this.push(
        from,
        end,
        head,
        got.amount,
        isPlan ? gives.filter(({ field }) => DEED.test(field)).map(planned) : gives,
        out,
      )
    }
  }

  private push(
    from: number,
    end: number,
    head: Thing['heads'][number],
    amount: Thing['amount'],
    gives: readonly Give[],
    out: Candidate[],
  ): void {
    out.push(this.candidate(head.entry, from, end, { ...head.captures, ...(amount ? { n: amount } : {}) }, gives))
  }

  /** What a verb of some kind does with a thing; undefined where it does nothing that counts. */
  private doing(kind: string, form: string, got: Thing, particle: string, at: number): Doing | undefined {
    const ahead = this.isAhead(at)
    // "add a super": with nobody who does it, it is an order or a rule
    const dated = (form === 'base' || form === 'now') && this.hasDay(at)
    if (form === 'base' && !ahead && !dated && !/^(i|we)$/.test(this.before(at))) return undefined
    if (kind === 'need') return this.opens(at) || got.amount !== undefined ? undefined : 'need'
    if (kind === 'with') return 'plan'
    if (kind === 'bring') return ahead || this.hasDay(at) ? 'plan' : undefined
    if (kind === 'have') {
      if (!ahead && !(dated && this.opens(at))) return undefined
      return GOES_IN.test(particle) ? 'plan' : GOES_OUT.test(particle) ? 'plan out' : undefined
    }
    // "taking honey": how it is done, not that it was
    if (form !== 'past' && !ahead && !dated && got.amount === undefined && fieldOf(got) === 'did.takeHoney')
      return undefined
    if (MOVES.test(particle) && (kind === 'move' || kind === 'put')) return 'move'
    if (kind === 'move') return undefined
    if (kind === 'wreck') return ahead ? undefined : kind
    if (kind === 'make') return kind
    if (kind === 'take' || kind === 'lift') {
      if (GOES_IN.test(particle)) return undefined
      if (this.looksOn(got.end)) return undefined
      // what is lifted off to look underneath goes back on
      if (
        STACKED.test(fieldOf(got)) &&
        !/^(away|home)$/.test(particle) &&
        (kind === 'lift' || form === 'ing' || got.definite)
      )
        return undefined
      // "pulled the one frame": to look at
      if (got.definite && particle === '' && /Frames$/.test(fieldOf(got))) return undefined
      return GOES_OUT.test(particle) || kind === 'take' ? 'take' : undefined
    }
    if (GOES_OUT.test(particle)) return undefined
    // "put the frame back": where it was
    if (got.definite && particle === 'back') return undefined
    return 'add'
  }

  /** The particle that belongs to a verb's thing, before or behind it. */
  private behind(got: Thing, before: string): { particle: string; end: number } {
    let i = this.over(got.end)
    if (!this.inClause(i) || (before !== '' && before !== 'back')) return { particle: before, end: got.end }
    let back = ''
    if (/^(back|right|straight|well)$/.test(this.norm(i))) {
      if (this.norm(i) === 'back') back = 'back'
      i = this.over(i + 1)
    }
    const here = this.inClause(i) ? this.norm(i) : ''
    if (!GOES_IN.test(here) && !GOES_OUT.test(here) && !MOVES.test(here))
      return { particle: back || before, end: got.end }
    // words that say where are a place of their own: "on hive five", "in the top box"
    const leads = this.inClause(i + 1) && !/^(today|now|and|there|here|as|again|for|so|then)$/.test(this.norm(i + 1))
    return { particle: back && got.definite ? 'back' : here, end: leads && !GOES_OUT.test(here) ? got.end : i + 1 }
  }

  private thingAt(at: number): Thing | undefined {
    let hit = this.known.get(at)
    if (hit === undefined) {
      hit = this.readThing(at) ?? null
      this.known.set(at, hit)
    }
    return hit ?? undefined
  }

  private readThing(at: number): Thing | undefined {
    let i = at
    let amount: Thing['amount']
    let definite = false
    let measured = false
    let fresh = false
    let single = false
    for (let n = 0; n < 9; n++) {
      const word = this.words[i]
      if (word === undefined || (i > at && word.brk >= Break.inferred)) return undefined
      const heads = this.headsAt(i)
      if (heads) {
        if (measured && amount === undefined)
          amount = {
            start: at,
            end: at,
            cost: 0,
            value: { lo: 1, hi: 1, end: at, kind: 'integer', percent: false } as Amount,
          }
        const behind = amount === undefined ? this.amountBehind(heads.end) : undefined
        return {
          from: at,
          end: behind?.end ?? heads.end,
          amount: amount ?? behind?.amount,
          definite,
          fresh,
          single,
          heads: heads.list,
        }
      }
      const number = amount === undefined && this.norm(i - 1) !== 'other' ? this.numberAt(i) : undefined
      if (number) {
        amount = { ...(number as Found<Amount>), start: i }
        i = this.over(number.end)
        continue
      }
      const measure = this.longest('dmeas', i)
      if (measure) {
        measured = true
        // "a litre and a half"
        const more = /^and a (half|quarter)$/.exec([0, 1, 2].map((k) => this.norm(measure.end + k)).join(' '))?.[1]
        if (more) {
          const lo = (amount?.value.lo ?? 1) + (more === 'half' ? 0.5 : 0.25)
          const value: Amount = { lo, hi: lo, end: measure.end + 3, kind: 'fraction', percent: false }
          amount = { start: at, end: measure.end + 3, cost: 0, value }
          i = this.over(measure.end + 3)
          continue
        }
      }
      const pre =
        measure ??
        this.longest('dpack', i) ??
        this.longest('ddet', i) ??
        this.longest('dadj', i) ??
        this.longest('dbad', i) ??
        this.longest('dmod', i)
      if (!pre && !word.filler) return undefined
      if (/^(the|that|this|those|these|his|your)$/.test(word.norm)) definite = true
      if (/^(a|an|another)$/.test(word.norm)) single = true
      if (/^(fresh|another|extra|new)$/.test(word.norm)) fresh = true
      i = this.over(pre?.end ?? i + 1)
    }
    return undefined
  }

  /** "A third super" is the next one, not a part. */
  private numberAt(at: number): Found | undefined {
    const number = this.lookup('n', at)[0]
    const last = number && this.norm(number.end - 1)
    return last && /^(third|quarter|fifth)$/.test(last) && !/^(of|a)$/.test(this.norm(number.end)) ? undefined : number
  }

  /** "Syrup, two litres", "substitute one patty": the amount may stand behind the thing. */
  private amountBehind(at: number): { amount: Found<Amount> & { start: number }; end: number } | undefined {
    const i = this.over(at)
    if (this.words[i] === undefined || this.words[i]!.brk >= Break.hard) return undefined
    const number = this.lookup('n', i)[0]
    if (!number) return undefined
    let end = this.over(number.end)
    if (/^(a|of)$/.test(this.norm(end))) end = this.over(end + 1)
    const unit =
      this.longest('dmeas', end) ??
      this.longest('dpack', end) ??
      this.longest('dstrip', end) ??
      this.longest('dunit', end)
    return unit && this.inClause(end)
      ? { amount: { ...(number as Found<Amount>), start: i }, end: unit.end }
      : undefined
  }

  /** What the words here name, the longest name of all; of two names side by side the second is the thing. */
  private headsAt(at: number): { end: number; list: Thing['heads'] } | undefined {
    let end = 0
    let list: { entry: Entry; captures: Candidate['match']['captures'] }[] = []
    for (const entry of this.things) {
      const match = matchPattern(entry.pattern, this.words, at, this.lookup, true)
      if (!match || match.end < end) continue
      if (match.end > end) list = []
      end = match.end
      list.push({ entry, captures: match.captures })
    }
    if (end === 0) return undefined
    const next = this.words[end]
    if (next && next.brk === Break.none) {
      const compound = this.headsAt(end)
      if (compound) return compound
      if (
        /^(of|full|frame|frames|box|boxes|board|boards|stand|lid|bag|shed|larvae|brood)$/.test(next.norm) &&
        !/^of$/.test(next.norm)
      )
        return undefined
    }
    return { end, list }
  }

  private verbAt(at: number): { end: number; value: string } | undefined {
    const hit = this.longest('deedverb', at)
    return hit && { end: hit.end, value: (hit.value as { value: string }).value }
  }

  /** Whether the one who does it is the keeper, or what is done is told of the hive ("they were given"). */
  private isOurs(at: number, kind: string): boolean {
    let i = at - 1
    let passive = false
    while (i >= 0 && this.words[i + 1]!.brk < Break.inferred && (RUNS_UP.test(this.norm(i)) || this.words[i]!.filler)) {
      if (PASSIVE.test(this.norm(i))) passive = true
      i--
    }
    const first = i + 1
    if (kind === 'need')
      return !this.words.slice(Math.max(first - 1, 0), at).some((word) => /^(i|we|you|not|n't)$/.test(word.norm))
    // "do we put one in?"
    if (
      i >= 0 &&
      /^(do|did|should|shall|can|could|would|may|if)$/.test(this.norm(i)) &&
      /^(i|we)$/.test(this.norm(first))
    )
      return false
    if (i < 0 || this.words[first]!.brk >= Break.inferred || /^(and|so|then|now)$/.test(this.norm(i))) return true
    return !NOT_US.test(this.norm(i)) || passive || kind === 'get'
  }

  /** Where the words begin that say who does it: "I've just …". */
  private runUp(at: number): number {
    let i = at
    while (
      i > 0 &&
      this.words[i]!.brk < Break.inferred &&
      (RUNS_UP.test(this.norm(i - 1)) || this.words[i - 1]!.filler)
    )
      i--
    for (; i < at; i++) if (/^(i|we)$/.test(this.norm(i))) return i
    return at
  }

  private isAhead(at: number): boolean {
    for (let i = at - 1; i >= 0 && i >= at - 5 && this.words[i + 1]!.brk < Break.inferred; i--)
      if (AHEAD.test(this.norm(i))) return true
    return false
  }

  /** "I'll be back on Thursday with some syrup". */
  private returns(at: number): boolean {
    for (let i = at - 1; i >= 0 && i >= at - 7 && this.words[i + 1]!.brk < Break.soft; i--)
      if (/^(back|return|come|up|out|round|over)$/.test(this.norm(i))) return this.isAhead(i) || this.hasDay(i)
    return false
  }

  /** Whether a day is named in the clause of a word. */
  private hasDay(at: number): boolean {
    for (let i = at; i < this.words.length && (i === at || this.words[i]!.brk < Break.soft); i++)
      if (this.lookup('date', i).length > 0) return true
    return false
  }

  /** Whether what is taken is not put back: said so by the verb, the thing or where it goes. */
  private isForGood(from: number, end: number): boolean {
    for (let i = from; i < Math.min(end + 4, this.words.length); i++) {
      if (i > end && this.words[i]!.brk >= Break.soft) break
      if (FOR_GOOD.test(this.norm(i))) return true
    }
    return this.isElsewhere(end)
  }

  /** "… and in the shed", "… on the truck": behind what came off, where it lies now. */
  private isElsewhere(end: number): boolean {
    let led = false
    for (let i = end; i < Math.min(end + 6, this.words.length); i++) {
      if (this.words[i]!.brk >= Break.hard) return false
      if (/^(in|on|into|onto|to|behind)$/.test(this.norm(i))) led = true
      else if (led && ELSEWHERE.test(this.norm(i))) return true
    }
    return false
  }

  private looksOn(end: number): boolean {
    for (let i = end; i < Math.min(end + 5, this.words.length); i++) if (LOOK.test(this.norm(i))) return true
    return false
  }

  private isVerbal(at: number): boolean {
    const i = this.over(at)
    return this.inClause(i) && /^(is|are|'s|was|were|has|have|had|to)$/.test(this.norm(i))
  }

  /** Whether words from here on may be the first thing said in a clause. */
  private opens(at: number): boolean {
    const before = this.words[at - 1]
    if (before === undefined || this.words[at]!.brk >= Break.inferred) return true
    if (before.filler) return this.opens(at - 1)
    return (
      /^(and|so|then|now|okay|ok|right|righto|plus|also)$/.test(before.norm) ||
      (before.norm === "'s" && this.norm(at - 2) === 'that')
    )
  }

  /** Whether words from here on may open a clause that no border marks: no word before them wants something to follow. */
  private mayOpen(at: number): boolean {
    const before = this.words[at - 1]!
    const isCall = /^(number|hive|nuc|colony|frame)$/.test(this.norm(at - 2))
    return !before.filler && (isCall || !LEADS_ON.test(before.norm)) && !this.thingAt(at - 1) && !this.verbAt(at - 1)
  }

  private ends(at: number): boolean {
    const word = this.words[at]
    return (
      word === undefined ||
      word.brk >= Break.inferred ||
      /^(and|now|today|here|there|so|for|each|as|to|because|too|again|probably|i|they)$/.test(word.norm)
    )
  }

  private before(at: number): string {
    let i = at - 1
    while (i >= 0 && (this.words[i]!.filler || /^(just|also|then|now)$/.test(this.norm(i)))) i--
    return this.norm(i)
  }

  private longest(name: string, at: number): Found | undefined {
    const word = this.words[at]
    return word === undefined ? undefined : this.lookup(name, at)[0]
  }
}

const fieldOf = (got: Thing): string => got.heads[0]!.entry.gives[0]!.field

/** What a line gives, with "yes" where no number was said. */
const givesFor = (entry: Entry, amount: unknown): readonly Give[] =>
  amount === undefined
    ? entry.gives.map((give) => (give.value === '$n' ? { ...give, value: 'yes' } : give))
    : entry.gives

/** What is needed is still to be done. */
const planned = (give: Give): Give => ({
  ...give,
  field: give.field.replace(/^did\./, 'todo.'),
  ...(give.value === '$n' ? { value: 'yes' } : {}),
})
