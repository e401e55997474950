import type { Give } from '../grammar/line.ts'
import { resolveDate } from '../language/dates.ts'
import { Break } from '../language/word.ts'
import type { Meaning, Mention } from '../reading/mention.ts'
import { stands } from '../reading/mention.ts'
import { convert } from './convert.ts'
import { clauseFeatures, saidFeatures } from './features.ts'
import { fieldInfo } from './fields.ts'
import type { Value } from './schema.ts'
import { pestSpokenOf } from './setting.ts'
import { type BoxPlace, type Draft, memoryOf } from './state.ts'
import {
  amountOf,
  amountValue,
  blockedBy,
  clauseBegins,
  clauseHas,
  dateOf,
  pointsAt,
  type Turn,
  termOf,
} from './turn.ts'

/** Where and how a value is given; what is left out comes from the state. */
export interface EmitOptions {
  readonly at?: 'visit' | 'hive' | 'box' | 'frame'
  readonly how?: Draft['how']
  readonly side?: 'A' | 'B' | null
  readonly frame?: number | null
  readonly box?: BoxPlace | null
  readonly hive?: string
  readonly features?: Record<string, number>
  readonly detail?: string
  readonly by?: string
  /** Given whatever the standing of the clause. */
  readonly firm?: boolean
  readonly entry?: number
  readonly saidIn?: string
}

/** Puts down one value at every hive and frame in hand. Returns the drafts. */
export function put(turn: Turn, field: string, value: Value, by: string, options: EmitOptions = {}): Draft[] {
  const { state, mention } = turn
  const info = fieldInfo(field)
  if (!info)
    throw new Error(`the grammar line ${by} gives the unknown field "${field}": this is a fault of the grammar`)
  const level = options.at ?? info.place
  const hives = options.hive !== undefined ? [options.hive] : level === 'visit' ? [''] : hivesOf(turn, field)
  const deep = level === 'side' || level === 'frame'
  const frames =
    options.frame !== undefined
      ? [options.frame]
      : deep && state.inHand
        ? state.frames.length > 0
          ? state.frames
          : [state.frame]
        : [null]
  const box =
    options.box !== undefined
      ? options.box
      : broodInSuper(field, state)
        ? null
        : level === 'visit' || level === 'hive'
          ? null
          : state.box
  const side =
    options.side !== undefined ? options.side : level === 'side' && state.inHand && !state.bothSides ? state.side : null
  state.given.add(field)
  const said = saidFeatures(
    turn,
    mention,
    mention.meanings.find((m) => m.entry.id === by),
    level === 'visit',
  )
  const out: Draft[] = []
  for (const hive of hives) {
    for (const frame of frames) {
      const draft: Draft = {
        field,
        value,
        hive,
        box,
        frame,
        side,
        how: options.how ?? 'stated',
        evidence: [{ start: mention.start, end: mention.end, by, ...takenFor(turn, mention) }],
        alternatives: [],
        features: { ...said, ...clauseFeatures(turn, mention, field, value), ...options.features },
        at: turn.utterance.words[mention.from]?.at ?? turn.utterance.at,
        dead: null,
        turn: state.turn,
        ...(state.hiveSaid === null ? {} : { hiveAt: state.hiveSaid.at }),
        ...(state.callAt === null ? {} : { callAt: state.callAt }),
        ...(options.entry === undefined ? {} : { entry: options.entry }),
        ...(options.detail === undefined ? {} : { detail: options.detail }),
        ...(options.saidIn === undefined ? {} : { saidIn: options.saidIn }),
      }
      takeBack(turn, draft)
      state.drafts.push(draft)
      turn.emitted.push(draft)
      out.push(draft)
    }
  }
  state.last = out
  state.emittedInTurn++
  noteWhatCarries(state, field, value)
  return out
}

/** Remembers how mites are counted, since the next hive's may be counted so too, and how many boxes a hive has. */
function noteWhatCarries(state: Turn['state'], field: string, value: Value): void {
  if (field === 'mites.method') state.round = { ...state.round, method: WASHED.test(String(value)) ? value : null }
  if (field === 'mites.sampleBees') state.round = { ...state.round, bees: value }
  if (field === 'boxes.super' && typeof value === 'number') memoryOf(state, state.hive).supers = value
  if (field === 'boxes.brood' && typeof value === 'number') memoryOf(state, state.hive).broods = value
}
const WASHED = /^(alcoholWash|sugarRoll|co2)$/

/** The words of a mention as they were understood, where one of them was put right. */
function takenFor({ utterance }: Turn, mention: Mention): { taken?: string } {
  const words = utterance.words.slice(mention.from, mention.to)
  if (words.every((word) => word.cost === 0)) return {}
  return {
    taken: words
      .map((word) => word.norm)
      .filter(Boolean)
      .join(' '),
  }
}

const TAKES_BACK = /^(sorry|no|wait|scratch|correction|actually|rather)$/

/** "(Top box …) five frames of brood, no sorry, six frames all up": the count taken back, though said of another box. */
function takeBack({ state, utterance, mention }: Turn, draft: Draft): void {
  if (fieldInfo(draft.field)?.place !== 'box') return
  const before = state.drafts
    .slice(-6)
    .findLast((d) => d.turn === state.turn && d.field === draft.field && d.hive === draft.hive && d.dead === null)
  if (!before || before.box?.role === draft.box?.role || (before.box && draft.box)) return
  const { end } = before.evidence[0]!
  const between = utterance.words.slice(0, mention.from).filter((w) => w.start >= end)
  if (between.length <= 4 && between.some((w) => TAKES_BACK.test(w.norm))) before.dead = 'revised'
}

/** Frames of brood, bees and seams are counted in the nest, wherever the talk last was. */
const broodInSuper = (field: string, state: Turn['state']): boolean =>
  state.box?.role === 'super' &&
  /^(frames\.(brood|cappedBrood|openBrood|eggs|droneBrood|bees)|seams\.bees)$/.test(field)

/** The hives that words at this point speak of. */
const LEAVES = /^(did|todo)\.(removeFrames|takeHoney|removeBox|moveFrames|cutCells)/

export function hivesOf(turn: Turn, field: string): string[] {
  // "gave it two frames from number four": the giver is named, the receiver is meant
  const deed = /^(did|todo)\./.test(field)
  const fits = turn.localBy === 'at' || (turn.localBy === 'from' ? LEAVES.test(field) : !deed || !LEAVES.test(field))
  if (turn.localHives && fits) return turn.localHives
  return turn.state.group.length > 0 ? turn.state.group : [turn.state.hive]
}

const PAST =
  /^(did|had|was|were|got|put|gave|took|went|have|has|'ve|been|done|hung|slid|threw|stuck|fed|shook|made|brought|came|(?!breed|bleed|indeed)[a-z]{3,}ed)$/

/** "Had a super on since April": no deed of today. */
const sinceThen = ({ utterance: { words }, mention }: Turn): boolean => {
  const next = words.slice(mention.to).findIndex((word) => word.brk >= Break.soft)
  const end = next < 0 ? words.length : mention.to + next
  for (let i = mention.to; i < Math.min(end, mention.to + 5); i++)
    if (words[i]!.norm === 'since') return SEASONS.test(words[i + 1]?.norm ?? '')
  return false
}
const SEASONS =
  /^(january|february|march|april|may|june|july|august|september|october|november|december|spring|summer|autumn|winter|last|christmas|easter|then)$/

const NOW = new Set(['today', 'now'])
const TO_COME = new Set([
  "'ll",
  'will',
  'going',
  'gonna',
  'need',
  'needs',
  'want',
  'wants',
  'must',
  'should',
  'to',
  'due',
  'could',
  'later',
])

/** Gives the values of one meaning, as the standing of its words allows. Returns the drafts put down. */
export function emitGive(turn: Turn, give: Give, meaning: Meaning): Draft[] {
  const { mention, state } = turn
  const { line, id } = meaning.entry
  const field = fill(
    give.field.replace('$spoken', () => pestSpokenOf(state) ?? '$spoken'),
    meaning,
  )
  const raw = valueFor(turn, give, meaning)
  if (field === undefined || raw === undefined) return []
  const weight = line.weight === undefined ? {} : { features: { weak: Math.round((1 - line.weight) * 100) / 100 } }
  // a frame is taken whole unless a side is named with it
  const whole = field === 'frame.taken' && line.place?.side === undefined ? { side: null } : {}
  const unit = typeof give.value === 'string' ? VARIABLE.exec(give.value)?.[2] : undefined
  const options: EmitOptions = {
    ...(unit === undefined ? {} : { saidIn: unit }),
    ...(give.at ? { at: give.at } : {}),
    ...weight,
    ...whole,
  }
  const firm = line.firm === true
  const denied = !firm && stands(mention.standing, 'denied') !== undefined
  const deed = /^(did|todo)\.(\w+)(\.\w+)?$/.exec(field)
  const block = blockedBy(mention)
  if (block) return []
  if (deed) return emitDeed(turn, deed, raw, id, options, { denied, firm })
  // "the excluder comes out on Friday": what follows from a deed waits with it
  if (meaning.entry.gives.some((g) => g.field.startsWith('did.')) && isAhead(turn, firm)) return []
  const planned = stands(mention.standing, 'planned')
  if (planned && !firm) return []
  if (stands(mention.standing, 'question') && !firm) {
    const before = state.pending
    const also =
      before?.field &&
      before.value !== null &&
      before.turn === state.turn &&
      before.start === mention.start &&
      before.end === mention.end
        ? [...(before.also ?? []), { field: before.field, value: before.value }]
        : []
    state.pending = {
      field,
      value: raw,
      topic: line.topic ?? null,
      turn: state.turn,
      start: mention.start,
      end: mention.end,
      by: id,
      pointing: pointsAt(turn, mention),
      also,
    }
    return []
  }
  if (!denied) return [...put(turn, field, raw, id, options), ...onComb(turn, field, raw, meaning)]
  if (give.deny === null) return []
  if (give.deny !== undefined) return put(turn, field, give.deny, id, options)
  const pest = /^(pest\.\w+)\.present$/.exec(field)
  if (pest) return put(turn, `${pest[1]}.level`, 'none', id, options)
  if (raw === 'yes') return put(turn, field, 'no', id, options)
  if (raw === 'no') return line.denied ? put(turn, field, 'no', id, options) : []
  return []
}

const KINDS = ['eggs', 'larvae', 'cappedBrood', 'droneBrood']

/** Eggs and brood seen while a frame is in hand are on that frame. */
function onComb(turn: Turn, field: string, raw: Value, meaning: Meaning): Draft[] {
  const kind = /^(\w+)\.present$/.exec(field)?.[1]
  const { state } = turn
  if (kind === undefined || raw !== 'yes' || !KINDS.includes(kind)) return []
  if (!state.inHand || state.walk !== 'frames' || meaning.entry.gives.some((g) => g.field === 'frame.holds')) return []
  return put(turn, 'frame.holds', kind, meaning.entry.id)
}

/** What was done, or is to be done: the same words, told apart by tense and date. */
function emitDeed(
  turn: Turn,
  [field, tense, kind, rest]: RegExpExecArray,
  raw: Value,
  by: string,
  options: EmitOptions,
  { denied, firm }: { denied: boolean; firm: boolean },
): Draft[] {
  const { mention, state } = turn
  if (denied) return []
  if (stands(mention.standing, 'question') && !firm) return []
  const near = dueNear(turn)
  const due = near?.date
  if (tense === 'did' && (isPastDeed(turn) || sinceThen(turn))) return []
  // a plan for a day that is gone is none, however it sounds
  if (tense === 'todo' && !stands(mention.standing, 'planned') && isPastDeed(turn)) return []
  // "they're getting a second box today": a day that is this one, in words of now, is no plan
  const now =
    tense === 'todo' &&
    near?.borders === 0 &&
    near.date === state.noteDate &&
    clauseHas(turn, mention, NOW) &&
    !clauseHas(turn, mention, TO_COME)
  if (now) raw = raw === near.date ? 'yes' : raw
  const before = tense === 'did' ? planBefore(turn) : undefined
  const planned =
    (tense === 'todo' && !now && !doneNow(turn)) || (isAhead(turn, firm) && !doneNow(turn)) || before !== undefined
  options = { ...options, features: { ...options.features, ...deedFeatures(turn, tense!, planned, near) } }
  if (!planned) {
    const drafts = put(turn, field, raw, by, options)
    if (rest === '.kind') state.lastKind[kind!] = String(raw)
    return drafts
  }
  if (rest) return put(turn, `todo.${kind}${rest}`, raw, by, options)
  const value: Value = typeof raw === 'string' && /^\d{4}-/.test(raw) ? raw : (due ?? before ?? 'yes')
  // the day of the visit is no plan to look
  if (kind === 'inspect' && value === state.noteDate) return []
  return put(turn, `todo.${kind}`, value, by, options)
}

/** "Take the supers off on Friday and put the strips in": the day of the plan that the words go on with. */
function planBefore(turn: Turn): string | undefined {
  const { utterance, mention, emitted } = turn
  const last = emitted.at(-1)
  const opener = utterance.words[mention.from - 1]?.norm ?? ''
  const verb = utterance.words[mention.from]?.norm ?? ''
  if (last === undefined || !/^todo\.\w+$/.test(last.field) || !/^(and|then)$/.test(opener)) return undefined
  return /^(put|set|cut|shut|split|let|take|give|add|move|feed|treat|pull|get)$/.test(verb)
    ? String(last.value)
    : undefined
}

/** "I'll put a trap in now", "we'll give them a box. There": said while it is done. */
function doneNow({ utterance: { words }, mention }: Turn): boolean {
  let to = mention.to
  while (to < words.length && words[to]!.brk < Break.soft) to++
  const wills = words
    .slice(Math.max(0, mention.from - 4), mention.from + 2)
    .some((word) => /^('ll|will)$/.test(word.norm))
  return wills && to > mention.to && words[to - 1]!.norm === 'now' && to - mention.to <= 3
}

/** Whether a deed is still to be done: so cued, or of a day to come in words that are not of the past. */
export function isAhead(turn: Turn, firm: boolean): boolean {
  const { mention, state } = turn
  if (firm) return false
  if (stands(mention.standing, 'planned')) return true
  const due = dueDate(turn)
  const own = datesNear(turn).find((d) => d.date === due && d.borders === 0)
  if (due === undefined || own === undefined || state.noteDate === null) return isVaguelyAhead(turn)
  // "tonight I put them on top", "tomorrow I put them on": a word that may be past or present is not past there
  if (own.isToCome) return !hasPast(turn, own.mention, /^put$/)
  return due > state.noteDate && !stands(mention.standing, 'firm') && !hasPast(turn, own.mention)
}

/** Times to come that name no day, as they end a clause or open it. */
const VAGUELY_AHEAD =
  /(^|\b(at|on|over|by|this|next|come|before|for|to) (the )?)weekend$|\b(week|month) after next$|\bin a (week|fortnight|month)( or (two|so))?$|\bin the (autumn|fall|spring|winter|summer|morning|evening)$|\bnext (time|visit|trip|week|month|season|year|spring|autumn|(good|fine|warm|dry|decent|nice) day)$|\b(when|once|next time|next) (i|we) ('m|'re|am|are) (back|here|next here|in|up|down|over|out)( again)?$|\b(by|before) (the )?(winter|autumn|fall|christmas|spring|flow|main flow)$/

/** "Close the entrance at the weekend", "pop a comb in next trip": an order for a time that names no day. */
function isVaguelyAhead({ utterance: { words }, mention }: Turn): boolean {
  let from = mention.from
  while (from > 0 && words[from]!.brk < Break.inferred && mention.from - from < 6) from--
  let to = mention.to
  while (to < words.length && to - mention.to < 9) {
    const { brk, norm } = words[to]!
    if (brk > Break.inferred || (brk === Break.inferred && !/^(when|once|before|next|by)$/.test(norm))) break
    to++
  }
  const before = words.slice(from, mention.from).map(({ norm }) => norm)
  const behind = words.slice(mention.from, to).map(({ norm }) => norm)
  // who did it, or a word of the past: it is told and not asked for
  if (before.some((word) => /^(i|we|he|she|they)$/.test(word))) return false
  const isVerb = (word: string, i: number): boolean => i === 0 && /^(put|set|cut|shut|split|let)$/.test(word)
  if ([...before, ...behind].some((word, i) => PAST.test(word) && !isVerb(word, i - before.length))) return false
  return VAGUELY_AHEAD.test(before.join(' ')) || VAGUELY_AHEAD.test(behind.join(' '))
}

/** Whether the clause up to the deed and its day, whichever is later, tells of the past: what follows is another deed. */
function hasPast({ utterance: { words }, mention }: Turn, day: Mention, but?: RegExp): boolean {
  let from = Math.min(mention.from, day.from)
  while (from > 0 && words[from]!.brk < Break.soft) from--
  let to = Math.max(mention.to, day.to)
  while (to < words.length && words[to]!.brk < Break.soft && !/^(and|then)$/.test(words[to]!.norm)) to++
  // "getting united on Thursday" is to come
  return words
    .slice(from, to)
    .some(
      ({ norm }, i) =>
        PAST.test(norm) &&
        !but?.test(norm) &&
        !/^(get|gets|getting|be|being|needs?|wants?)$/.test(words[from + i - 1]?.norm ?? ''),
    )
}

/** A date in the utterance, and how it stands to the mention at hand. */
interface DateNear {
  readonly date: string
  /** Borders of clauses between them. */
  readonly borders: number
  readonly mention: Mention
  /** "Tonight", "tomorrow", "in a week" right before the words: no weekday that may be the last one. */
  readonly isToCome: boolean
}

/** The day that belongs to the deed at hand: of its own clause, or of a clause beside it that has no deed of its own. */
export const dueDate = (turn: Turn): string | undefined => dueNear(turn)?.date

function dueNear(turn: Turn): DateNear | undefined {
  const { state } = turn
  return datesNear(turn).find(
    (d) => state.noteDate !== null && d.date >= state.noteDate && (d.borders === 0 || !deedBetween(turn, d.mention)),
  )
}

/** Whether a date made a deed a plan, and whether its day stands in another clause. */
function deedFeatures(turn: Turn, tense: string, planned: boolean, due: DateNear | undefined): Record<string, number> {
  const turned = planned && tense === 'did' && !stands(turn.mention.standing, 'planned')
  return {
    ...(turned ? { plannedByDate: 1 } : {}),
    ...(planned && due !== undefined ? { dated: 1 } : {}),
    ...(planned && due !== undefined && due.borders > 0 ? { dateBeside: 1 } : {}),
  }
}

/** Whether a day of the deed's own clause lies before the visit. */
function isPastDeed(turn: Turn): boolean {
  const own = datesNear(turn).filter((d) => d.borders === 0)
  return own.length > 0 && own.every((d) => d.date < turn.state.noteDate!)
}

function datesNear(turn: Turn): DateNear[] {
  const { state, mention } = turn
  if (!state.noteDate) return []
  const out: (DateNear & { gap: number })[] = []
  for (const other of turn.mentions) {
    if (stands(other.standing, 'earlier') || stands(other.standing, 'denied')) continue
    const spoken = other.meanings.map(dateOf).find((d) => d !== undefined)
    if (!spoken) continue
    const date = resolveDate(spoken.spec, state.noteDate)
    if (!date) continue
    const { words } = turn.utterance
    // "after Christmas" gives no day
    const lead = words[other.from - 1]?.norm === 'the' ? other.from - 2 : other.from - 1
    if (/^(after|before)$/.test(words[lead]?.norm ?? '')) continue
    const isTonight = words.slice(other.from, other.to).some((word) => word.norm === 'tonight')
    const leads = other.to <= mention.from && mention.from - other.to <= 2
    const isToCome = leads && (isTonight || (spoken.spec.kind === 'days' && spoken.spec.days > 0))
    const [from, to] = other.from >= mention.to ? [mention.to, other.from] : [other.to, mention.from]
    let borders = 0
    // "tomorrow I'm splitting": what stands right behind a day that opens a clause belongs to it
    const opens = other.to <= mention.from && clauseBegins(turn.utterance.words, other.from)
    for (let i = from; i <= to && i < turn.utterance.words.length; i++)
      if (turn.utterance.words[i]!.brk >= Break.inferred && !(opens && i === other.to)) borders++
    out.push({
      date,
      borders,
      mention: other,
      isToCome,
      gap: borders * 100 + (to - from) + (other.from >= mention.to ? 0 : 0.5),
    })
  }
  return out.sort((a, b) => a.gap - b.gap)
}

/** Whether another deed stands between the one at hand and a date, or in the date's own clause. */
function deedBetween(turn: Turn, date: Mention): boolean {
  const { mention } = turn
  const [from, to] = date.from >= mention.to ? [mention.to, clauseEndFrom(turn, date.to)] : [date.from, mention.from]
  return turn.mentions.some(
    (m) =>
      m !== mention &&
      m !== date &&
      m.from >= from &&
      m.to <= to &&
      m.meanings.some((x) => x.entry.gives.some((g) => /^(did|todo)\.\w+$/.test(g.field))),
  )
}

function clauseEndFrom(turn: Turn, at: number): number {
  const all = turn.utterance.words
  let end = at
  while (end < all.length && all[end]!.brk < Break.inferred) end++
  return end
}

const VARIABLE = /^\$([a-zA-Z0-9]+)(?::([a-zA-Z0-9]+))?$/

/** A field or topic with what the pattern captured in place of its `$name`s. */
export function fill(template: string, meaning: Meaning): string | undefined {
  let missing = false
  const out = template.replace(/\$([a-zA-Z]+)/g, (_, name: string) => {
    const term = termOf(meaning, name)
    if (term === undefined) missing = true
    return term ?? ''
  })
  return missing ? undefined : out
}

/** The value of a give: a constant, a captured amount (perhaps in another unit), a captured term or a date. */
export function valueFor(turn: Turn, give: Give, meaning: Meaning): Value | undefined {
  const { value } = give
  if (typeof value === 'number') return value
  const variable = VARIABLE.exec(value)
  if (!variable) return value
  const [, name = '', unit] = variable
  if (name === 'date') {
    const date = dateOf(meaning)
    return date && turn.state.noteDate ? (resolveDate(date.spec, turn.state.noteDate) ?? 'yes') : 'yes'
  }
  if (name === 'lastKind') return turn.state.lastKind[/^(?:did|todo)\.(\w+)/.exec(give.field)?.[1] ?? '']
  const capture = meaning.captures[name]
  if (!capture) return undefined
  if (typeof capture.value === 'object' && capture.value !== null && 'lo' in capture.value) {
    const amount = amountOf(meaning, name)!
    return convert(amountValue(amount), unit ?? null, turn.region)
  }
  return termOf(meaning, name)
}
