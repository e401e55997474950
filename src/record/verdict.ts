import { readAmount } from '../language/amounts.ts'
import { Break, type Word } from '../language/word.ts'
import { type CombsMeant, type Meaning, type Mention, stands } from '../reading/mention.ts'
import { put } from './emit.ts'
import { combsOf, inSuper, isHarvest } from './setting.ts'
import { type Draft, latestOf, memoryOf, type State } from './state.ts'
import { amountOf, blockedBy, clauseBegins, endsClause, nextWord, type Turn, termOf } from './turn.ts'

/** What may stand behind a verdict that no mark ends. */
const GOES_ON =
  /^(and|so|for|then|but|i|we|they|that|the|next|last|frame|number|because|cos|thanks|please|now|right|okay|on|top|bottom|middle|super|\w+th|first|second|third|it|which|with|his|her|turn)$/
/** What no verdict stands behind where no mark begins it: "the one that's going", "they leave it". */
const LEADS_IN = /^(the|a|an|to|on|in|from|of|for|with|what|who|\w+thing|you|they|she|bees|ones?|frames)$/
const AUX = /^(am|is|are|was|were|be|'m|'s|'re|'ll|will|do|have|'ve|not|n't|just|also|all|both)$/
const NOT = /^(not|n't|never|neither|none|no|nor|without)$/
const LATER =
  /^(later|tomorrow|tonight|weeks?|months?|when|once|if|until|till|unless|before|(?!to)\w+day|usually|always|would|should|could)$/

/** What was decided on the combs of the box in hand. */
function decided(state: State): Map<number | null, Draft> {
  const out = new Map<number | null, Draft>()
  for (const draft of ofBox(state)) if (draft.field === 'frame.taken') out.set(draft.frame, draft)
  return out
}

/** So many readings back is looked: a box of honey has many. */
const BACK = 200

/** What was read of the hive in hand not long ago and not taken back. */
const latest = (state: State): Draft[] => latestOf(state, state.hive, BACK)

function ofBox(state: State): Draft[] {
  const { box } = state
  return latest(state).filter(
    (draft) => draft.box?.role === box?.role && (draft.box?.ordinal ?? 1) === (box?.ordinal ?? 1),
  )
}

/** "That's going", "having them", "those four stay", "theirs": which combs of honey are taken and which are left. False where the words decide nothing. */
export function verdict(turn: Turn, mention: Mention, meaning: Meaning): boolean {
  const { state, utterance } = turn
  const { words } = utterance
  const combs = meaning.captures.combs?.value as CombsMeant | undefined
  if (!isHarvest(state) && !isClear(turn, mention, combs)) return false
  if (state.called.length === 0 && !state.inHand && !inSuper(state) && combs?.which !== 'numbers') return false
  // "back in" is no time of year
  const block = mention.standing.find(
    (cue) =>
      /^(earlier|other|wish)$/.test(cue.kind) &&
      cue.at[0] < mention.from &&
      !words.slice(cue.at[1], mention.from).some(({ norm }) => /^(so|now|gonna|'m|'ll)$/.test(norm)),
  )
  if (block) return false
  if (isRule(words, mention)) return false
  if (!endsClause(turn, mention) && !GOES_ON.test(nextWord(turn, mention)) && !readAmount(words, mention.to))
    return false
  let before = mention.from - 1
  if (words[before]?.norm === 'to' && /^gon|^going$/.test(words[before - 1]?.norm ?? '')) before -= 2
  while (before > 0 && AUX.test(words[before]!.norm)) before--
  const opens = clauseBegins(words, before + 1)
  if (!opens && LEADS_IN.test(words[before]?.norm ?? '')) return false
  // short ones are words of other talk too: they stand alone
  const isShort = !combs && mention.to - mention.from <= 2 && !/^(stay|tak)/.test(words[mention.from]!.norm)
  if (isShort && !(opens && endsClause(turn, mention))) return false
  const said = words.slice(Math.max(0, mention.from - 1), mention.to).map(({ norm }) => norm)
  const isNot = combs?.none === true || said.some((norm, i) => NOT.test(norm) && !(i === 0 && norm === 'no'))
  const note =
    meaning.entry.line.note === 'again'
      ? state.verdict
      : (meaning.entry.line.note ?? termOf(meaning, 'takes') ?? termOf(meaning, 'goes') ?? isIn(combs))
  if (note !== 'yes' && note !== 'no') return false
  if (isNot && !isHarvest(state)) return false
  // "back it goes"; but "… on the back, it goes"
  const isBack = said.slice(said[0] === 'back' && !/^(the|on)$/.test(words[mention.from - 2]?.norm ?? '') ? 0 : 1)
  const value = isNot || isBack.includes('back') ? 'no' : note
  const by = meaning.entry.id
  // "shall I have that?" asks
  if (stands(mention.standing, 'question')) {
    const { start, end } = mention
    state.pending = { field: 'frame.taken', value, topic: null, turn: state.turn, start, end, by }
    return true
  }
  state.verdict = value
  const meant = framesMeant(turn, combs, value)
  if (!meant) return false
  const known = decided(state)
  for (const frame of meant.frames)
    if (known.get(frame)?.value !== value) put(turn, 'frame.taken', value, by, { frame, side: null })
  if (meant.count && value === 'yes') put(turn, 'did.takeHoney', meant.count, by)
  return true
}

/** "Both of 'em in": into the box that goes home; "that's in" is no verdict. */
const isIn = (combs: CombsMeant | undefined): 'yes' | null =>
  combs && combs.which !== 'it' && combs.which !== 'them' ? 'yes' : null

/** Combs taken in so many words, "taking this one", "pulled three and four", where nothing was told of brood. */
function isClear({ state, utterance }: Turn, { from, to }: Mention, combs: CombsMeant | undefined): boolean {
  if (!combs || combsOf(state) !== null) return false
  const takes = utterance.words
    .slice(from, to)
    .some(({ norm }) => /^(taking|having|robbing|harvest(ing|ed)?)$/.test(norm))
  if (combs.which === 'it') return takes && state.frame !== null
  const hasSupers = (memoryOf(state, state.hive).supers ?? 0) > 0
  return combs.frames.length > 0 && combs.n === 0 && (hasSupers || utterance.words[from]!.norm === 'have')
}

/** "You usually take it", "we'll have that when it's capped": no comb is decided on. */
function isRule(words: readonly Word[], { from, to }: Mention): boolean {
  for (let i = from - 1; i >= 0 && i >= from - 6 && words[i + 1]!.brk < Break.soft; i--) {
    if (LATER.test(words[i]!.norm)) return true
    if (/^(so|and|but|then)$/.test(words[i]!.norm)) break
  }
  return words.slice(to, to + 3).some(({ norm, brk }) => brk < Break.soft && LATER.test(norm))
}

/** The combs that are meant, and how many if it was said. */
function framesMeant(
  turn: Turn,
  combs: CombsMeant | undefined,
  value: 'yes' | 'no',
): { frames: readonly (number | null)[]; count?: number } | null {
  const { state } = turn
  const inHand = state.inHand ? (state.frames.length > 0 ? state.frames : [state.frame]) : null
  const known = decided(state)
  const open = state.called.filter((n) => !known.has(n))
  const which = combs?.which ?? 'it'
  if (which === 'it') return inHand && { frames: inHand }
  if (which === 'them') {
    if (state.frames.length > 1) return { frames: state.frames }
    if (open.length > 1) return { frames: open }
    return null
  }
  const n = combs!.n
  if (which === 'all') return open.length > 0 ? { frames: open } : inSuper(state) ? { frames: [null] } : null
  if (which === 'last') {
    if (state.called.length < n) return value === 'yes' ? { frames: [], count: n } : null
    return { frames: state.called.slice(-n), ...(combs!.n > 2 || !combs!.none ? { count: n } : {}) }
  }
  if (which === 'first') return { frames: Array.from({ length: n }, (_, i) => i + 1), count: n }
  if (which === 'count') return { frames: soMany(state, open, n), count: n }
  const { frames } = combs!
  // "four off", where four was decided on already: so many in all
  if (n > 0 && known.has(n) && state.frame !== n) return null
  // "we harvest five": so many, where no comb of that number is spoken of; but "take, four …" goes on to the next comb
  if (frames.length > 1 || state.called.includes(frames[0]!) || (n === 0 && state.called.length === 0))
    return { frames }
  const best = frames[0] === n && endsClause(turn, turn.mention) ? soMany(state, open, n) : []
  return best.length > 0 ? { frames: best, count: n } : null
}

/** So many of the combs that nothing was decided on: all of them, or those that are sealed best. */
function soMany(state: State, open: readonly number[], n: number): readonly number[] {
  if (open.length === n) return open
  if (open.length < n) return []
  const shares = new Map<number, number>()
  for (const { field, frame, value } of ofBox(state))
    if (field === 'honey.cappedPercent' && frame !== null && typeof value === 'number')
      shares.set(frame, Math.min(value, shares.get(frame) ?? 100))
  const best = [...open].sort((a, b) => (shares.get(b) ?? 0) - (shares.get(a) ?? 0))
  const isClear = (shares.get(best[n - 1]!) ?? 0) > (shares.get(best[n]!) ?? 0)
  return isClear ? best.slice(0, n).sort((a, b) => a - b) : []
}

const FROM_HERE = /^(off|out|from|for|altogether|and|so|here|home)$/

/** "That's six out of that super", "two and six is eight": how many combs were taken, where that many were, or the sum is right. */
export function cropTotal(turn: Turn, mention: Mention, meaning: Meaning): boolean {
  const { state } = turn
  const n = amountOf(meaning)?.lo
  if (n === undefined || stands(mention.standing, 'question') || /^(earlier|other)$/.test(blockedBy(mention) ?? ''))
    return false
  const last = turn.utterance.words[mention.to - 1]!.norm
  if (!endsClause(turn, mention) && !FROM_HERE.test(nextWord(turn, mention)) && !FROM_HERE.test(last)) return false
  const crop = latest(state)
  const taken = crop.filter((d) => d.field === 'frame.taken' && d.value === 'yes' && d.frame !== null)
  const here = taken.filter((d) => d.box?.ordinal === state.box?.ordinal)
  const isTold = crop.some((d) => d.field === 'did.takeHoney') || taken.length > 0
  if (meaning.entry.line.note === 'sum' ? !isTold : ![taken.length, here.length].includes(n)) return false
  put(turn, 'did.takeHoney', n, meaning.entry.id)
  return true
}
