import type { Amount } from '../language/amounts.ts'
import type { Word } from '../language/word.ts'
import type { Meaning, Mention } from '../reading/mention.ts'
import { calledBy, comesBack } from './features.ts'
import { fieldInfo } from './fields.ts'
import { callOver } from './hive-calls.ts'
import { known, leaveFrame, openHives } from './open-hive.ts'
import { type BoxPlace, latestOf, memoryOf, type State } from './state.ts'
import { amountOf, isSuperWord, type Turn, termOf } from './turn.ts'

/** Moves to where a place phrase says we are. Returns false when the phrase makes no sense here (so that its pieces count). */
export function applyPlace(turn: Turn, mention: Mention, meaning: Meaning): boolean {
  const moved = goTo(turn, mention, meaning)
  if (moved) turn.draftsAtPlace = turn.state.drafts.length
  return moved
}

function goTo(turn: Turn, mention: Mention, meaning: Meaning): boolean {
  const place = meaning.entry.line.place!
  const { state } = turn
  if (place.hive !== undefined) {
    const said = turn.utterance.words.slice(mention.from, mention.to)
    const called = said.some((w) => /^(hive|number|colony)$/.test(w.norm))
    const labels = hiveLabels(state, String(place.hive), meaning, place.nuc !== undefined, called)
    const call = FOLLOWED.test(String(place.hive)) ? callOver(turn, mention) : null
    if (labels.length === 0 && !call) return false
    if (place.prefix !== undefined)
      labels.splice(0, labels.length, ...labels.map((label) => `${place.prefix} ${label}`))
    // "Barge, that's the long hive": said of the hive just called
    const before = turn.utterance.words[mention.from - 1]?.norm
    if (
      /^(is|'s)$/.test(before ?? '') &&
      turn.utterance.words[mention.from - 2]?.norm === 'that' &&
      turn.draftsAtPlace >= 0 &&
      turn.localHives === null
    )
      return true
    // which words call a hive is for the whole note to say; others only name one
    if (place.meant !== undefined && labels.length === 1) {
      meantHive(turn, labels[0]!)
      enterHive(turn, mention, labels)
    } else if (call) {
      enterHive(turn, mention, labels.includes(call.labels[0]!) ? labels : call.labels)
      noteHow(turn, said, meaning, call.labels)
    } else if (place.local !== undefined) {
      turn.localHives = joins(turn, mention) && turn.localHives ? [...turn.localHives, ...labels] : labels
      turn.localBy = /^(from|off|out)$/.test(turn.utterance.words[mention.from]!.norm)
        ? 'from'
        : /^(to|into|for)$/.test(turn.utterance.words[mention.from]!.norm)
          ? 'to'
          : 'at'
      for (const label of labels) if (label !== '') known(state, label)
    } else if (!FOLLOWED.test(String(place.hive))) enterHive(turn, mention, labels)
  }
  if (place.box === 'brood' || place.frame !== undefined) wentThroughExcluder(turn, mention)
  if (place.box !== undefined)
    enterBox(state, boxFor(state, String(place.box), place.which === undefined ? null : String(place.which), meaning))
  if (place.frame !== undefined && !enterFrame(turn, mention, String(place.frame), meaning)) return false
  if (place.side !== undefined) enterSide(state, String(place.side))
  return true
}

/** Places that the note as a whole settles (`hives/`), and not the phrase by itself. */
const FOLLOWED = /^(?!(all|both|current)$)/

/** Remembers how hives are called in this note, from the first that is. */
function noteHow({ state }: Turn, said: readonly Word[], meaning: Meaning, labels: readonly string[]): void {
  state.calledBy ??= !/\d/.test(labels[0]!)
    ? 'name'
    : amountOf(meaning, 'n')?.kind === 'ordinal'
      ? 'order'
      : said.some((w) => w.norm === 'number')
        ? 'number'
        : 'hive'
}

/** Captures that are a hive's label as they stand. */
const NAMING = new Set('$hivename $name $code $letter $paint $spot'.split(' '))

function hiveLabels(state: State, value: string, meaning: Meaning, nuc: boolean, called: boolean): string[] {
  if (NAMING.has(value)) {
    const name = termOf(meaning, value.slice(1))
    return name === undefined ? [] : [name]
  }
  if (value === '$hivelist' || value === '$hiveno') return [...(meaning.captures[value.slice(1)]!.value as string[])]
  if (value === 'all') return ['']
  if (value === 'both') return state.hives.slice(-2)
  if (value === 'other') {
    const others = state.hives.filter((hive) => hive !== state.hive)
    return others.length > 0 ? [others[others.length - 1]!] : state.named ? ['other'] : []
  }
  if (value === 'next')
    return /^(nuc )?\d+$/.test(state.hive) ? [state.hive.replace(/\d+$/, (d) => String(Number(d) + 1))] : []
  if (value === 'current') return [state.hive]
  if (value.startsWith('$')) {
    const amount = amountOf(meaning, value.slice(1))
    if (!amount || !Number.isInteger(amount.lo) || amount.lo < 0 || amount.percent) return []
    const again = amountOf(meaning, 'again')
    if (again && again.lo !== amount.lo) return []
    const out: string[] = []
    for (let n = amount.lo; n <= amount.hi && out.length < 200; n++)
      out.push(nuc || (!called && nucsBefore(state, n)) ? `nuc ${n}` : String(n))
    return out
  }
  return [value]
}

/** In a row of nucs, a bare number is the next nuc. */
const nucsBefore = (state: State, n: number): boolean =>
  (state.hives.includes(`nuc ${n}`) || state.hives.includes(`nuc ${n - 1}`)) &&
  !state.hives.includes(String(n)) &&
  state.hive.startsWith('nuc ')

/** Two place phrases side by side ("one, three and five") make a group. */
export function joins(turn: Turn, mention: Mention): boolean {
  const previous = turn.mentions[turn.index - 1]
  if (!previous || previous.to > mention.from || turn.state.drafts.length !== turn.draftsAtPlace) return false
  for (let i = previous.to; i < mention.from; i++) {
    const word = turn.utterance.words[i]!
    if (!word.filler && word.norm !== 'and' && word.norm !== 'or') return false
  }
  return previous.meanings.some((m) => {
    const said = m.entry.line.act === 'amount' ? amountOf(m) : undefined
    return m.entry.line.place !== undefined || (said?.kind === 'integer' && said.hi <= 60 && !said.percent)
  })
}

export function enterHive(turn: Turn, mention: Mention, labels: readonly string[]): void {
  const { state } = turn
  state.hiveSaid = {
    turn: state.turn,
    at: mention.start,
    by: calledBy(turn, mention, labels),
    back: comesBack(state, labels),
    repair: mention.cost,
  }
  if (state.group.length === 0 && labels.length === 1 && labels[0] === state.hive && state.named) return
  if (joins(turn, mention) && state.named) {
    const group = state.group.length > 0 ? state.group : [state.hive]
    state.group = [...new Set([...group, ...labels])]
    for (const label of labels) known(state, label)
    return
  }
  openHives(state, labels)
  turn.localHives = null
}

/** "No wait, that was hive three": all since the hive in hand was called was said of that one. */
function meantHive({ state }: Turn, label: string): void {
  const called = state.hiveSaid?.at ?? 0
  if (state.group.length > 1 || label === state.hive) return
  for (let i = state.drafts.length - 1; i >= 0; i--) {
    const draft = state.drafts[i]!
    if (draft.hive !== state.hive || draft.evidence[0]!.start < called) break
    if (fieldInfo(draft.field)?.place !== 'visit') draft.hive = label
  }
  const { supers, broods, frames } = memoryOf(state, state.hive)
  Object.assign(memoryOf(state, label), { supers, broods, frames })
  // a hive that was called by mistake was none
  if (!state.drafts.some(({ hive }) => hive === state.hive)) {
    state.hives = state.hives.filter((hive) => hive !== state.hive)
    state.memory.delete(state.hive)
  }
}

const OFF_TO_GO_DOWN =
  /\bexcluder (is |'s |comes |goes )?(off|out)( (now|there|right|okay|ok|and|so|then|the|next|into|in|down|to|we|are|'re|i|am|'m|go|going))*$/

/** "Excluder off. Brood box, frame one …": it was there, and goes back on when what is below was looked at. */
function wentThroughExcluder({ state, utterance }: Turn, mention: Mention): void {
  const off = latestOf(state, state.hive, 4).filter(
    ({ turn, field }) => turn >= state.turn - 2 && /^(did\.removeExcluder|excluder\.present)$/.test(field),
  )
  if (off.length === 0) return
  const said = [...state.lastWords, ...utterance.words.slice(0, mention.from).map(({ norm }) => norm)].slice(-12)
  if (!OFF_TO_GO_DOWN.test(said.join(' '))) return
  for (const draft of off) {
    if (draft.field === 'did.removeExcluder') draft.dead = 'revised'
    if (draft.field === 'excluder.present' && draft.value === 'no') draft.value = 'yes'
  }
}

function enterBox(state: State, box: BoxPlace): void {
  const same = state.box && state.box.role === box.role && state.box.ordinal === box.ordinal
  if (same) return
  state.box = box
  state.called = []
  state.verdict = null
  leaveFrame(state)
  state.topic = null
}

/** Which box is meant: its number counted from the entrance up, as far as it can be told now. */
function boxFor(state: State, role: string, which: string | null, meaning: Meaning): BoxPlace {
  const kind = role === 'current' ? (state.box?.role ?? 'super') : role === 'brood' ? 'brood' : 'super'
  const memory = memoryOf(state, state.hive)
  const count = kind === 'super' ? memory.supers : memory.broods
  if (which?.startsWith('$')) {
    const amount = amountOf(meaning, which.slice(1))
    if (amount) return { role: kind, ordinal: amount.lo }
  }
  if (which === 'top') return { role: kind, ordinal: count, said: 'top' }
  if (which === 'bottom') return { role: kind, ordinal: 1, said: 'bottom' }
  if (which === 'middle') return { role: kind, ordinal: count === null ? 2 : Math.ceil(count / 2), said: 'middle' }
  if (which === 'down')
    return { role: kind, ordinal: state.box?.ordinal ? Math.max(1, state.box.ordinal - 1) : 1, said: 'next' }
  if (which === 'up') return { role: kind, ordinal: state.box?.ordinal ? state.box.ordinal + 1 : null, said: 'next' }
  if (state.box && state.box.role === kind) return state.box
  return { role: kind, ordinal: count === null || count === 1 ? 1 : count }
}

/** Takes a frame in hand: a number as said, the next in order, or one that is not numbered. */
export function enterFrame(turn: Turn, mention: Mention, which: string, meaning: Meaning): boolean {
  const { state } = turn
  const last = state.frame ?? (state.inHand ? 1 : 0)
  if (which === 'next') return takeFrames(turn, [last + state.stride])
  // "the first three are capped"
  if (which.startsWith('first:')) {
    const count = amountOf(meaning, which.slice(6))?.lo ?? 0
    if (count < 2 || count > 12 || !Number.isInteger(count)) return false
    return takeFrames(
      turn,
      Array.from({ length: count }, (_, i) => i + 1),
    )
  }
  // "two more like that": the next so many
  if (which.startsWith('next:')) {
    const count = amountOf(meaning, which.slice(5))?.lo ?? 0
    if (count < 1 || count > 8 || !Number.isInteger(count)) return false
    return takeFrames(
      turn,
      Array.from({ length: count }, (_, i) => last + state.stride * (i + 1)),
    )
  }
  if (which === '$row') return takeFrames(turn, [...(meaning.captures.row!.value as readonly number[])])
  if (which === 'skip') return takeFrames(turn, [(state.frame ?? 0) + 2])
  if (which === 'unnumbered') {
    leaveFrame(state)
    state.inHand = true
    return true
  }
  if (which === 'none') {
    leaveFrame(state)
    return true
  }
  if (/^\d+$/.test(which)) return takeFrames(turn, [Number(which)])
  const [first, second] = which.split('+').map((name) => amountOf(meaning, name.slice(1)))
  if (!first || (second && second.lo <= first.hi) || !takeNumbered(turn, mention, first)) return false
  return second === undefined || takeFrames(turn, [...(state.frames.length > 0 ? state.frames : [first.lo]), second.lo])
}

export function takeNumbered(turn: Turn, mention: Mention, amount: Amount): boolean {
  const { state } = turn
  if (!Number.isInteger(amount.lo) || amount.lo < 1 || amount.hi > 60 || amount.percent) return false
  const numbers: number[] = []
  for (let n = amount.lo; n <= amount.hi; n++) numbers.push(n)
  if (joins(turn, mention) && state.frame !== null) {
    const group = state.frames.length > 0 ? state.frames : [state.frame]
    return takeFrames(turn, [...new Set([...group, ...numbers])])
  }
  return takeFrames(turn, numbers)
}

function takeFrames(turn: Turn, numbers: number[]): boolean {
  const { state } = turn
  // supers were counted, or spoken of last, and frames follow: they are frames of the super, until brood turns up in them
  const { supers } = memoryOf(state, state.hive)
  if (
    state.box === null &&
    !state.inHand &&
    !nestSeen(state) &&
    ((supers !== null && supers > 0 && numbers[0] === 1) || superInHand(turn))
  )
    state.box = { role: 'super', ordinal: supers || 1, ...(supers ? { said: 'top' as const } : {}), guessed: true }
  const first = numbers[0]!
  if (first < 1 || numbers.some((n) => n < 1)) return false
  // from the far wall: ten, nine, eight
  if (state.frame !== null && state.walk === 'frames' && numbers.length === 1) {
    if (first === state.frame - 1 && (state.framesCalled === 1 || state.stride === -1)) state.stride = -1
    else if (first > state.frame) state.stride = 1
  } else if (state.frame === null) state.stride = 1
  if (numbers.length > 1) state.stride = numbers[numbers.length - 1]! < first ? -1 : 1
  if (state.frame !== numbers[numbers.length - 1]) state.framesCalled += numbers.length
  state.called = [...state.called.filter((n) => !numbers.includes(n)), ...numbers]
  state.frame = numbers[numbers.length - 1]!
  state.frames = numbers.length > 1 ? numbers : []
  state.inHand = true
  state.side = null
  state.bothSides = false
  state.walk = 'frames'
  state.lastContent = null
  return true
}

/** "Super off the back hive. First one …", "super frame six": a super was named last, not as one that is put on or wanted. */
function superInHand({ state, utterance, mention }: Turn): boolean {
  const here = boxNamed(utterance.words.slice(0, mention.from), state)
  return here === undefined ? state.superSaid === state.turn - 1 : here
}

const NEST_WORD = /^(brood|nest|deep|deeps|down|downstairs|below|excluder|single|double)$/
const NEW_BOX =
  /^(put|add|added|adding|give|gave|given|giving|need|needs|want|wants|another|order|build|if|when|no|without|more|new|set|stuck|whacked)$/

/** Whether the box of the hive in hand that some words name last is a super; undefined where none is named. */
export function boxNamed(said: readonly Word[], { hiveSaid }: State): boolean | undefined {
  const words = said.filter(({ start }) => start >= (hiveSaid?.at ?? 0))
  const at = words.findLastIndex((word) => isSuperWord(word) || NEST_WORD.test(word.norm))
  if (at < 0) return undefined
  const around = words.slice(Math.max(0, at - 5), at + 3).map(({ norm }) => norm)
  if (
    /\b(off|from|with) (with )?(the|her|their|that)$/.test(
      words
        .slice(Math.max(0, at - 3), at)
        .map(({ norm }) => norm)
        .join(' '),
    )
  )
    return false
  return isSuperWord(words[at]!) && !around.some((norm) => NEW_BOX.test(norm))
}

/** Whether brood of this hive was already spoken of. */
function nestSeen(state: State): boolean {
  for (let i = state.drafts.length - 1; i >= 0 && state.drafts[i]!.hive === state.hive; i--)
    if (/^(frames\.brood|eggs|larvae|cappedBrood|queen\.seen)/.test(state.drafts[i]!.field)) return true
  return false
}

/** Brood on a frame of a box that was only guessed to be a super: it is the nest. */
export function notASuper(state: State): void {
  if (!state.box?.guessed) return
  for (let i = state.drafts.length - 1; i >= 0 && state.drafts[i]!.hive === state.hive; i--)
    if (state.drafts[i]!.box?.guessed) state.drafts[i]!.box = null
  state.box = null
}

export function enterSide(state: State, side: string): void {
  if (!state.inHand) state.inHand = true
  if (side === 'both') {
    state.side = null
    state.bothSides = true
    return
  }
  state.bothSides = false
  if (side === 'this') {
    state.side ??= 'A'
    return
  }
  // "this side sixty, that side forty"
  if (side === 'that') {
    if (state.side === 'A' && saidOfFace(state)) state.side = 'B'
    else state.side ??= 'A'
    return
  }
  if (side === 'A' || side === 'B') {
    if (side === 'B' && state.side === null) nameFirstFace(state)
    state.side = side
    return
  }
  // "flip it, the back is half": turned already, and nothing was said since
  if (state.turnedAt === state.drafts.length && state.side !== null) return
  // the other one: what was said of this frame so far was its first face
  if (state.side === null) {
    nameFirstFace(state)
    state.side = 'B'
  } else state.side = state.side === 'A' ? 'B' : 'A'
  if (side === 'flip') state.turnedAt = state.drafts.length
}

/** Whether a share was said of the face in hand. */
function saidOfFace(state: State): boolean {
  return state.drafts
    .slice(-8)
    .some((d) => d.hive === state.hive && d.frame === state.frame && d.side === state.side && OF_COMB.test(d.field))
}

const OF_COMB = /^(honey\.|comb\.drawn|brood\.cover|frame\.holds)/

const OF_A_FACE = /^(honey\.|comb\.drawn|brood\.cover)/

/** "Frame four, fully capped. Other side …": the first value turns out to be of side A. */
function nameFirstFace(state: State): void {
  for (let i = state.drafts.length - 1; i >= 0; i--) {
    const draft = state.drafts[i]!
    if (draft.turn < state.turn - 8 || draft.hive !== state.hive) break
    if (draft.frame === state.frame && draft.side === null && OF_A_FACE.test(draft.field) && draft.dead === null)
      draft.side = 'A'
  }
}
