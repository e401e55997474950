import { createReader, grammarFor, type Reader, utterancesOf, type YardHints } from '../read.ts'
import type { FlatReading, InspectionRecord } from '../record/schema.ts'
import { clean } from '../report/clean.ts'
import { due } from '../report/due.ts'
import { firstThings } from '../report/findings.ts'
import { about, type PlaceInHand, sayPlaced, sayWhere } from '../report/live.ts'
import { counted, sayDay, sayHive } from '../report/words.ts'
import type { Finding } from '../rules/finding.ts'
import { judge } from '../rules/judge.ts'
import type { YardForRules } from '../rules/settings.ts'
import { type HeardLine, heardLines } from '../transcript/formats/heard.ts'
import { readerHints, type Yard } from '../yard.ts'
import {
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
import { createLooker, type Sight } from './sight.ts'
import { type HeardHow, keptHead, keptLine, newTape } from './tape.ts'

export interface VisitOptions {
  /** The note's name. */
  readonly name: string
  /** ISO day of the visit. */
  readonly date?: string
  readonly yard?: Yard
  /** Instead of a whole yard file, where only these are known: the reader's part of it and the rules'. */
  readonly parts?: { readonly hints: YardHints; readonly rules: YardForRules }
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
  const { name, yard, parts, history } = options
  const restored = options.restore === undefined ? undefined : heardLines(options.restore, name)
  const date = options.date ?? restored?.day
  const hints = parts?.hints ?? (yard && readerHints(yard))
  const rules = parts?.rules ?? yard
  const grammar = grammarFor(hints)
  const readerOptions = { name, ...(date !== undefined && { date }), ...(hints && { yard: hints }) }
  const tape = newTape(name)
  const reader: Reader = createReader(tape.transcript, readerOptions)
  const { look, findings } = createLooker(reader, history, rules)
  let number = 0
  let kept = ''
  let lastKept = keptHead(date)
  let place: PlaceInHand = reader.place()
  /** What was told of each hive, so that an answer tells only what is new. */
  const told = new Map<string, readonly FlatReading[]>()
  const alarmsTold = new Set<string>()
  let lastAsked = ''
  let lastAnswer: Answer | null = null

  const keep = (text: string): void => {
    lastKept = text
    kept += text
  }
  keep(lastKept)

  function take(line: HeardLine): void {
    reader.mark()
    add(line)
  }
  function add(line: HeardLine): void {
    const own = tape.add(line)
    for (const utterance of utterancesOf(own, grammar)) reader.hear(utterance)
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

  const lackingIn = (hive: string, sight: Sight = look(hive)[0]!): Lacking[] =>
    lackingFor(hive, sight.record, findings(sight))
  const readingsHere = (words?: string): Understood[] =>
    about(
      look(place.hive)[0]!.readings.filter(({ how }) => how !== 'derived'),
      words,
    ).map(understood)

  /** What the words just heard changed. */
  function tell(command: Command | null, from?: number): Answer {
    const before = place
    const changedHives = reader.touched()
    place = reader.place()
    const isAsBefore = changedHives.size === 0 && place.hive === before.hive && command?.kind !== 'close'
    const hives = isAsBefore ? [] : [...new Set([place.hive, ...changedHives])]
    const sights = look(...hives)
    const { fresh, gone } = changed(
      hives.flatMap((hive) => told.get(hive) ?? []),
      sights.flatMap(({ readings }) => readings),
      from,
    )
    for (const { hive, readings } of sights) told.set(hive, readings)
    const alarms = sights
      .filter(({ hive }) => hive === place.hive || [...fresh, ...gone].some((r) => r.hive === hive && hive !== ''))
      .flatMap((sight) => findings(sight, 'alarm'))
      .filter(isAlarm)
      .filter((finding) => !alarmsTold.has(alarmKey(finding)))
    const left = before.hive !== place.hive ? before.hive : null
    const closed = command?.kind === 'close' ? place.hive : left
    const lacking =
      closed === null
        ? []
        : lackingIn(
            closed,
            sights.find(({ hive }) => hive === closed),
          ).slice(0, SPOKEN_AT_ONCE)
    // asked for when the hive was closed, and again on leaving it, would be nagging
    const askedFor = lacking.map(({ hive, field }) => `${hive} ${field}`).join()
    const isNew = askedFor !== lastAsked
    if (closed !== null) lastAsked = askedFor
    const news = fresh.map(understood)
    const partial: Omit<Answer, 'lines'> = {
      where: place,
      moved: sayWhere(before) !== sayWhere(place),
      understood: news,
      takenBack: gone.map(understood),
      alarms: alarms
        .filter((finding) => !alarmsTold.has(alarmKey(finding)) && alarmsTold.add(alarmKey(finding)))
        .map(alarmOf),
      doubtful: news.filter(({ flag }) => flag === 'guess'),
      lacking: isNew ? lacking : [],
      isCommand: command,
    }
    return { ...partial, lines: linesOf(partial) }
  }

  const quiet = (command: Command | null, lines: readonly string[], more: Partial<Answer> = {}): Answer => ({
    where: place,
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
    const where = sayWhere(place)
    switch (command.kind) {
      case 'lacking': {
        const lacking = lackingIn(place.hive)
        return quiet(command, lacking.length > 0 ? [sayLacking(lacking)] : [`nothing is lacking for ${where}`], {
          lacking,
        })
      }
      case 'readBack': {
        const said = readingsHere(command.about)
        const none =
          command.about === undefined
            ? `nothing was said yet of ${where}`
            : `nothing was said of ${clean(command.about)} in ${where}`
        return quiet(command, said.length > 0 ? said.map(sayPlaced) : [none], { understood: said })
      }
      case 'again':
        return quiet(command, lastAnswer?.lines ?? ['nothing was heard yet'])
      case 'due': {
        const sight = look(place.hive)[0]!
        const list = due(sight.record, findings(sight)).slice(0, 5)
        return quiet(
          command,
          list.length > 0
            ? list.map(({ day, what }) => `${day === null ? 'no day' : sayDay(day)}: ${what}`)
            : [`nothing is due for ${where}`],
        )
      }
      case 'advise': {
        const first = firstThings(findings(look(place.hive)[0]!).filter((f) => f.place.hive === place.hive)).slice(0, 3)
        return quiet(
          command,
          first.length > 0
            ? first.map(({ says }) => clean(`${says.what} ${says.next}`))
            : [`the rules ask for nothing at ${clean(sayHive(place.hive))}`],
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
    const found = judge(record, history, rules, { flips: false })
    const hives = record.hives.filter(({ hive, readings, boxes }) => hive !== '' || readings.length + boxes.length > 0)
    if (hives.length === 0) return ['the visit is over: nothing was said of a hive']
    const lines = hives.flatMap(({ hive }) => {
      const lacking = lackingFor(hive, record, found).slice(0, SPOKEN_AT_ONCE)
      return lacking.length > 0 ? [sayLacking(lacking)] : []
    })
    const over = `the visit is over: ${counted(hives.length, 'hive')}`
    return lines.length > 0 ? [over, ...lines] : [`${over}, and nothing is lacking`]
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
    lastAnswer = tell(command)
    return lastAnswer
  }

  const before = restored?.lines ?? []
  for (const [i, line] of before.entries()) {
    number = Math.max(number, line.heard)
    if (i === before.length - 1) take(line)
    else add(line)
    kept += keptLine(line)
  }
  if (restored) {
    reader.touched()
    for (const { hive, readings } of look(...new Set([...reader.hives(), '']))) told.set(hive, readings)
    place = reader.place()
    for (const finding of judge(reader.record(), history, rules, { flips: false }))
      if (isAlarm(finding)) alarmsTold.add(alarmKey(finding))
  }

  return {
    hear,
    hearing: (words) => quiet(commandIn(words), []),
    revise(words, how) {
      const last = tape.lines.at(-1)
      if (!last) return hear(words, how)
      tape.drop()
      const from = tape.transcript.text.length
      reader.rewind()
      const command = commandIn(words)
      const asked = command !== null && isQuestion(command)
      const line = { ...lineOf(words, asked, { ...(last.at != null && { at: last.at }), ...how }), heard: last.heard }
      take(line)
      keep(keptLine(line))
      if (asked) return reply(command)
      lastAnswer = tell(command, from)
      return lastAnswer
    },
    where: () => place,
    lacking: (hive) => lackingIn(hive ?? place.hive),
    readBack: (words) => readingsHere(words),
    record: () => reader.record(),
    findings: () => judge(reader.record(), history, rules),
    hives: () => reader.hives(),
    closing,
    transcript: () => kept,
    kept: () => lastKept,
    catchUp: (budgetMs) => reader.catchUp(budgetMs),
  }
}

/** More than three things at once nobody keeps in mind with the hands full. */
const SPOKEN_AT_ONCE = 3
