import { createReader, grammarFor, type Reader, utterancesOf } from '../read.ts'
import { type FlatReading, flatten, type InspectionRecord } from '../record/schema.ts'
import { due } from '../report/due.ts'
import { firstThings } from '../report/findings.ts'
import { about, type PlaceInHand, sayPlaced, sayWhere } from '../report/live.ts'
import { clean } from '../report/style.ts'
import { sayDay, sayHive } from '../report/words.ts'
import type { Finding } from '../rules/finding.ts'
import { judge } from '../rules/judge.ts'
import { type HeardLine, heardLines } from '../transcript/formats/heard.ts'
import { readerHints, type Yard } from '../yard.ts'
import {
  type Alarm,
  type Answer,
  alarmKey,
  alarmOf,
  changed,
  isAlarm,
  linesOf,
  sayLacking,
  type Understood,
  understood,
} from './answer.ts'
import { type Command, commandIn, isQuestion } from './commands.ts'
import { type Lacking, lackingFor } from './hive-check.ts'
import { type HeardHow, keptHead, keptLine, newTape } from './tape.ts'

export interface VisitOptions {
  /** The note's name. */
  readonly name: string
  /** ISO day of the visit. */
  readonly date?: string
  readonly yard?: Yard
  /** Earlier records, for the rules that look back. */
  readonly history?: readonly InspectionRecord[]
  /** Kept lines of the same visit, as `transcript()` gave them: it goes on where they end. */
  readonly restore?: string
}

/** A visit as it is spoken. Everything here runs in a browser as well. */
export interface Visit {
  /** A final result of the recogniser: hears it and answers. */
  hear(words: string, how?: HeardHow): Answer
  /** A partial result, which the next one or a final one replaces: what it would mean. Nothing is kept of it. */
  hearing(words: string): Answer
  /** The last final result again, in other words. The answer says what that changed. */
  revise(words: string, how?: HeardHow): Answer
  where(): PlaceInHand
  /** What the rules lack for a hive (the one in hand) that can be told at the hive. */
  lacking(hive?: string): readonly Lacking[]
  /** What was said of the hive in hand; `words`: only what that is about, in ordinary words ("the queen"). */
  readBack(words?: string): readonly Understood[]
  /** The record of the whole visit: what reading `transcript()` gives. The cost grows with the visit. */
  record(): InspectionRecord
  /** What the rules find in the whole visit. The cost grows with the visit. */
  findings(): readonly Finding[]
  /** The hives of this visit, in the order of the calling. */
  hives(): readonly string[]
  /** What is still lacking, hive by hive: one line a hive, for the end of the visit. */
  closing(): readonly string[]
  /** Everything heard, as a text to be stored (JSON Lines); `openTranscript` reads it, `restore` goes on with it. */
  transcript(): string
  /** What was added to `transcript()` by the last call of `hear` or `revise`, to be appended to a store. */
  kept(): string
  /** Does work that was put off, for about `budgetMs`; true when nothing is left to do. */
  catchUp(budgetMs: number): boolean
}

/** Begins a visit, or goes on with one that was stored (`restore`). */
export function createVisit(options: VisitOptions): Visit {
  const { name, yard, history } = options
  const restored = options.restore === undefined ? undefined : heardLines(options.restore, name)
  const date = options.date ?? restored?.day
  const hints = yard && readerHints(yard)
  const grammar = grammarFor(hints)
  const readerOptions = { name, ...(date !== undefined && { date }), ...(hints && { yard: hints }) }
  const tape = newTape(name)
  const judged = (record: InspectionRecord) => judge(record, history, yard)
  let reader: Reader = createReader(tape.transcript, readerOptions)
  let number = 0
  let kept = ''
  let lastKept = keptHead(date)

  interface Moment {
    readonly place: PlaceInHand
    readonly record: InspectionRecord
    readonly findings: readonly Finding[]
    readonly readings: readonly FlatReading[]
  }
  const momentNow = (): Moment => {
    const record = reader.record()
    return { record, findings: judged(record), place: reader.place(), readings: flatten(record) }
  }
  let now: Moment = momentNow()
  let lastAnswer: Answer | null = null

  const keep = (text: string): void => {
    lastKept = text
    kept += text
  }
  keep(lastKept)

  function take(line: HeardLine): void {
    const own = tape.add(line)
    for (const utterance of utterancesOf(own, grammar)) reader.hear(utterance)
  }
  function rebuilt(): Reader {
    const fresh = createReader(tape.transcript, readerOptions)
    const again = newTape(name)
    for (const line of tape.lines) for (const utterance of utterancesOf(again.add(line), grammar)) fresh.hear(utterance)
    return fresh
  }
  const lineOf = (words: string, asked: boolean, how: HeardHow = {}): HeardLine => ({
    heard: number,
    text: words.replace(/\s+/g, ' ').trim(),
    ...(how.at !== undefined && { at: how.at }),
    ...(how.until !== undefined && { until: how.until }),
    ...(how.confidence !== undefined && { confidence: how.confidence }),
    ...(asked && { asked }),
    ...(how.words && how.words.length > 0 && { words: [...how.words] }),
  })

  const here = (moment: Moment) => moment.findings.filter((f) => f.place.hive === moment.place.hive)
  const lackingIn = (moment: Moment, hive: string): Lacking[] => lackingFor(hive, moment.record, moment.findings)
  const readingsHere = (moment: Moment, words?: string): Understood[] =>
    about(
      moment.readings.filter((r) => r.hive === moment.place.hive && r.how !== 'derived'),
      words,
    ).map(understood)

  /** What the words changed between two moments. */
  function compare(before: Moment, after: Moment, command: Command | null): Answer {
    const { fresh, gone } = changed(before.readings, after.readings)
    const known = new Set(before.findings.filter(isAlarm).map(alarmKey))
    const alarms: Alarm[] = after.findings.filter((f) => isAlarm(f) && !known.has(alarmKey(f))).map(alarmOf)
    const left = before.place.hive !== after.place.hive ? before.place.hive : null
    const closing = command?.kind === 'close' ? after.place.hive : left
    const told = fresh.map(understood)
    const partial: Omit<Answer, 'lines'> = {
      where: after.place,
      moved: sayWhere(before.place) !== sayWhere(after.place),
      understood: told,
      takenBack: gone.map(understood),
      alarms,
      doubtful: told.filter(({ flag }) => flag === 'guess'),
      lacking: closing === null ? [] : lackingIn(after, closing).slice(0, SPOKEN_AT_ONCE),
      isCommand: command,
    }
    return { ...partial, lines: linesOf(partial) }
  }

  const quiet = (command: Command | null, lines: readonly string[], more: Partial<Answer> = {}): Answer => ({
    where: now.place,
    moved: false,
    understood: [],
    takenBack: [],
    alarms: [],
    doubtful: [],
    lacking: [],
    isCommand: command,
    lines,
    ...more,
  })

  function reply(command: Command): Answer {
    const where = sayWhere(now.place)
    switch (command.kind) {
      case 'lacking': {
        const lacking = lackingIn(now, now.place.hive)
        return quiet(command, lacking.length > 0 ? [sayLacking(lacking)] : [`nothing is lacking for ${where}`], {
          lacking,
        })
      }
      case 'readBack': {
        const said = readingsHere(now, command.about)
        const none =
          command.about === undefined
            ? `nothing was said yet of ${where}`
            : `nothing was said of ${clean(command.about)} in ${where}`
        return quiet(command, said.length > 0 ? said.map(sayPlaced) : [none], { understood: said })
      }
      case 'again':
        return quiet(command, lastAnswer?.lines ?? ['nothing was heard yet'])
      case 'due': {
        const mine = new Set([now.place.hive, ''])
        const hives = now.record.hives.filter(({ hive }) => mine.has(hive))
        const list = due({ ...now.record, hives }, here(now)).slice(0, 5)
        return quiet(
          command,
          list.length > 0
            ? list.map(({ day, what }) => `${day === null ? 'no day' : sayDay(day)}: ${what}`)
            : [`nothing is due for ${where}`],
        )
      }
      case 'advise': {
        const first = firstThings(here(now)).slice(0, 3)
        return quiet(
          command,
          first.length > 0
            ? first.map(({ says }) => clean(`${says.what} ${says.next}`))
            : [`the rules ask for nothing at ${clean(sayHive(now.place.hive))}`],
        )
      }
      case 'finish':
        return quiet(command, closing())
      default:
        return quiet(command, [where])
    }
  }

  function closing(): string[] {
    const record = reader.record()
    const findings = judged(record)
    return record.hives.flatMap(({ hive }) => {
      const lacking = lackingFor(hive, record, findings).filter(({ priority }) => priority === 'first')
      return lacking.length > 0 ? [sayLacking(lacking)] : []
    })
  }

  function hear(words: string, how?: HeardHow): Answer {
    number++
    const command = commandIn(words)
    const asked = command !== null && isQuestion(command)
    const line = lineOf(words, asked, how)
    if (line.text === '') return quiet(null, [])
    take(line)
    keep(keptLine(line))
    if (asked) return reply(command)
    const before = now
    now = momentNow()
    lastAnswer = compare(before, now, command)
    return lastAnswer
  }

  for (const line of restored?.lines ?? []) {
    number = Math.max(number, line.heard)
    take(line)
    kept += keptLine(line)
  }
  if (restored) now = momentNow()

  return {
    hear,
    hearing: (words) => quiet(commandIn(words), []),
    revise(words, how) {
      const last = tape.lines.at(-1)
      if (!last) return hear(words, how)
      const before = now
      tape.drop()
      reader = rebuilt()
      const command = commandIn(words)
      const asked = command !== null && isQuestion(command)
      const line = { ...lineOf(words, asked, { ...(last.at != null && { at: last.at }), ...how }), heard: last.heard }
      take(line)
      keep(keptLine(line))
      now = momentNow()
      if (asked) return reply(command)
      lastAnswer = compare(before, now, command)
      return lastAnswer
    },
    where: () => now.place,
    lacking: (hive) => lackingIn(now, hive ?? now.place.hive),
    readBack: (words) => readingsHere(now, words),
    record: () => reader.record(),
    findings: () => judged(reader.record()),
    hives: () => now.record.hives.map(({ hive }) => hive),
    closing,
    transcript: () => kept,
    kept: () => lastKept,
    catchUp: () => true,
  }
}

/** More than three things at once nobody keeps in mind with the hands full. */
const SPOKEN_AT_ONCE = 3
