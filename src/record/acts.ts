import { resolveDate } from '../language/dates.ts'
import type { Meaning, Mention } from '../reading/mention.ts'
import { stands } from '../reading/mention.ts'
import { bareAmount, capShare } from './amounts.ts'
import { answerNo, answerYes } from './answers.ts'
import { cappedShare } from './capped-share.ts'
import { emitContent, emitCount } from './content.ts'
import { put } from './emit.ts'
import { fieldInfo } from './fields.ts'
import { leaveFrame } from './open-hive.ts'
import { enterFrame, enterSide } from './place.ts'
import { dose, noteMed } from './round.ts'
import { sameAgain, sameAs } from './same.ts'
import { inSuper } from './setting.ts'
import { addFeature, memoryOf } from './state.ts'
import { alsoIn, boxTotal, framesOf } from './tally.ts'
import { amountOf, areAll, blockedBy, dateOf, type Turn, tellsNow, termOf } from './turn.ts'

/** Does what an `act` of the grammar names: everything that leans on what was said before. */
export function applyAct(turn: Turn, mention: Mention, meaning: Meaning, act: string): void {
  const { state } = turn
  const by = meaning.entry.id
  switch (act) {
    case 'content':
      for (const [name, capture] of Object.entries(meaning.captures)) {
        if (!name.startsWith('content')) continue
        const term = termOf(meaning, name)
        if (capture && term) emitContent(turn, mention, term, by)
      }
      return
    case 'count': {
      const weight = meaning.entry.line.weight ?? 1
      for (const pair of ['', '2', '3']) {
        const amount = pair === '' ? amountOf(meaning) : amountOf(meaning, `n${pair}`)
        const term = termOf(meaning, `content${pair}`)
        if (amount && term)
          for (const draft of emitCount(turn, mention, term, amount, by))
            if (weight < 1) addFeature(draft, 'weak', 1 - weight)
      }
      return
    }
    case 'cappedCount': {
      const amount = amountOf(meaning)
      if (amount) emitCount(turn, mention, 'capped', amount, by)
      return
    }
    case 'stagesCount': {
      const capped = amountOf(meaning, 'capped')
      const open = amountOf(meaning, 'open')
      if (capped) emitCount(turn, mention, 'cappedBrood', capped, by)
      if (open) emitCount(turn, mention, 'larvae', open, by)
      return
    }
    case 'boxTotal':
      return boxTotal(turn, mention, meaning)
    case 'framesOf':
      return framesOf(turn, mention, meaning)
    case 'capshare':
      return capShare(turn, mention, meaning)
    case 'amount':
      return bareAmount(turn, mention, meaning)
    case 'yes':
      return answerYes(turn, mention, by)
    case 'no':
      return answerNo(turn, mention, by)
    case 'unanswered':
      state.pending = null
      return
    case 'same':
      return sameAgain(turn, mention, by)
    case 'sameAs':
      return sameAs(turn, mention, meaning)
    case 'verdict':
    case 'cropTotal':
    case 'boxshare':
      // done by the fold, which goes on with the pieces where they come to nothing
      return
    case 'med':
      return noteMed(turn, mention, meaning)
    case 'alsoIn':
      return alsoIn(turn, mention, meaning)
    case 'countOf': {
      const amount = amountOf(meaning)
      if (amount) emitCount(turn, mention, meaning.entry.line.note!, amount, by)
      return
    }
    case 'dose':
      return dose(turn, mention, meaning)
    case 'ask': {
      // a question for a number or a word: "how many seams is that?"
      const field = meaning.entry.line.note ?? null
      const value = field !== null && fieldInfo(field)?.type === 'yesNo' ? 'yes' : null
      if (value !== null && !stands(mention.standing, 'question')) return
      state.pending = {
        field,
        value,
        topic: meaning.entry.line.topic ?? null,
        turn: state.turn,
        start: mention.start,
        end: mention.end,
        by,
      }
      return
    }
    case 'cancel':
      // all that rests on the same words goes
      for (const draft of state.drafts.slice(-12))
        if (state.turn - draft.turn <= 2 && state.last.some((d) => d.evidence[0]!.start === draft.evidence[0]!.start))
          draft.dead = 'cancelled'
      return
    case 'leaveFrame':
      return leaveFrame(state)
    case 'supers':
    case 'broods':
      return boxes(turn, mention, meaning, act)
    case 'stack': {
      const lower =
        amountOf(meaning, 'b') ?? (meaning.entry.line.note ? { lo: Number(meaning.entry.line.note) } : undefined)
      boxes(turn, mention, meaning, 'broods', lower?.lo ?? 1)
      return boxes(turn, mention, meaning, 'supers', amountOf(meaning, 's')?.lo ?? 1)
    }
    case 'yard':
      return yard(turn, mention, meaning, by)
    case 'date':
      return bareDate(turn, mention, meaning, by)
    case 'bothSides': {
      const amount = amountOf(meaning)
      if (amount) enterSide(state, 'both')
      return
    }
    case 'legend': {
      const contents = [termOf(meaning, 'content'), termOf(meaning, 'content2'), termOf(meaning, 'content3')].filter(
        (c) => c !== undefined,
      )
      if (contents.length > 1) state.legend = contents
      return
    }
    case 'expectHives': {
      const amount = amountOf(meaning)
      const last = amountOf(meaning, 'm')
      // "two to one" is syrup, no row of hives
      if (amount && last && last.hi <= amount.lo) return
      if (amount && !state.named)
        state.expected = last
          ? [amount.lo, last.hi]
          : amount.hi > amount.lo
            ? [amount.lo, amount.hi]
            : [1, Math.max(amount.lo, state.expected?.[1] ?? 0)]
      return
    }
    case 'nothing':
      return nothingHere(turn, mention, by)
    case 'nextOrHive':
      enterFrame(turn, mention, 'next', meaning)
      return
    default:
      throw new Error(`the grammar line ${by} asks for the unknown act "${act}": this is a fault of the grammar`)
  }
}

/** "Six, nothing": an empty frame; behind a share of the first face, a face with nothing capped. */
function nothingHere(turn: Turn, mention: Mention, by: string): void {
  const { state } = turn
  if (!state.inHand || !tellsNow(mention)) return
  const said = state.drafts.slice(-6).filter((d) => d.frame === state.frame && d.hive === state.hive && d.dead === null)
  if (state.side === 'B' && said.some((d) => d.side === 'A' && d.field === 'honey.cappedPercent'))
    cappedShare(turn, mention, 0, by, { weak: 0.3 }, 'carried')
  else if (
    state.frame !== null &&
    !said.some((d) => /^(frame\.holds|honey\.|brood\.|comb\.|queen)/.test(d.field)) &&
    toldCombs(turn)
  )
    put(turn, 'frame.holds', 'empty', by, { features: { weak: 0.2 } })
}

/** Whether the walk tells what combs hold: where the queen is looked for, "nothing" is no queen. */
const toldCombs = ({ state, draftsAtPlace, utterance, mention }: Turn): boolean =>
  (draftsAtPlace === state.drafts.length || areAll(utterance.words, mention.from, mention.to)) &&
  (inSuper(state) ||
    state.drafts
      .slice(-12)
      .some((d) => d.hive === state.hive && d.frame !== state.frame && /^(frame\.holds|honey\.)/.test(d.field)))

/** "Two supers on", "double brood": how many boxes stand there. */
function boxes(turn: Turn, mention: Mention, meaning: Meaning, act: string, said?: number): void {
  const count = said ?? amountOf(meaning)?.lo ?? Number(meaning.entry.line.note ?? 1)
  if (count > 12 || !tellsNow(mention) || stands(mention.standing, 'denied')) return
  const memory = memoryOf(turn.state, turn.state.hive)
  if (act === 'supers') memory.supers = count
  else memory.broods = count
  if (act === 'supers') {
    turn.state.topic = 'super'
    turn.state.topicTurn = turn.state.turn
  }
  put(turn, act === 'supers' ? 'boxes.super' : 'boxes.brood', count, meaning.entry.id)
}

function yard(turn: Turn, mention: Mention, meaning: Meaning, by: string): void {
  const { state } = turn
  if (state.yard !== null || blockedBy(mention) || stands(mention.standing, 'planned')) return
  const known = termOf(meaning, 'yardname')
  const said = turn.utterance.words.slice(mention.from, mention.to)
  const text =
    known ??
    said
      .map((w) => w.said)
      .join(' ')
      .replace(/ '/g, "'")
  state.yard = text
  put(turn, 'visit.apiary', text, by, { at: 'visit' })
}

/** A date by itself: the day of the visit at the start, else the day of the last plan. */
function bareDate(turn: Turn, mention: Mention, meaning: Meaning, by: string): void {
  const { state } = turn
  const spoken = dateOf(meaning)
  if (
    !spoken ||
    !state.noteDate ||
    stands(mention.standing, 'earlier') ||
    stands(mention.standing, 'general') ||
    stands(mention.standing, 'conditional')
  )
    return
  const early = state.turn <= 5 && state.drafts.every((d) => d.hive === '') && !stands(mention.standing, 'planned')
  const named =
    spoken.spec.kind === 'day' &&
    (spoken.spec.month !== undefined || spoken.spec.weekday !== undefined) &&
    !/^(on|by|until|till|for)$/.test(turn.utterance.words[mention.from]!.norm)
  if (early && named) {
    if (!sameWeek(resolveDate(spoken.spec, state.noteDate, true), state.noteDate)) return
    const date =
      [resolveDate(spoken.spec, state.noteDate, true), resolveDate(spoken.spec, state.noteDate)].find(
        (d) => d === state.noteDate,
      ) ?? resolveDate(spoken.spec, state.noteDate, true)
    if (date) put(turn, 'visit.date', date, by, { at: 'visit' })
    return
  }
  const date = resolveDate(spoken.spec, state.noteDate)
  if (!date || date < state.noteDate) return
  // "… in three weeks, that's the 25th": the last plan gets its day
  for (let i = state.drafts.length - 1; i >= 0 && state.drafts[i]!.turn >= state.turn - 2; i--) {
    const draft = state.drafts[i]!
    if (!/^todo\.\w+$/.test(draft.field)) continue
    // "on the fourteenth, scratch that, the sixteenth"
    if (draft.dead === 'cancelled' && typeof draft.value === 'string' && /^\d/.test(draft.value)) draft.dead = null
    if (draft.dead) continue
    if (draft.value === 'yes' || spoken.spec.kind === 'day') {
      draft.value = date
      draft.evidence.push({ start: mention.start, end: mention.end, by })
    }
    if (turn.state.group.length === 0 && !turn.localHives) return
  }
}

/** A day said early in a note is the day of the visit only if it lies near it. */
const sameWeek = (date: string | undefined, noteDate: string): boolean =>
  date !== undefined && Math.abs(Date.parse(date) - Date.parse(noteDate)) <= 8 * 86_400_000
