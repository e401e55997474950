import { batch, computed, type ReadonlySignal, signal } from '@preact/signals'
import { type Change, changesBetween } from '../../corrections/after.ts'
import { applyCorrections } from '../../corrections/apply.ts'
import { type Correction, type CorrectionBody, stamped, standing } from '../../corrections/correction.ts'
import { CombscribeError } from '../../errors.ts'
import type { Alarm, Answer } from '../../live/answer.ts'
import type { Lacking } from '../../live/hive-check.ts'
import { createVisit } from '../../live/visit.ts'
import { readTranscript } from '../../read.ts'
import type { InspectionRecord } from '../../record/schema.ts'
import type { PlaceInHand } from '../../report/live.ts'
import type { Finding } from '../../rules/finding.ts'
import { judge } from '../../rules/judge.ts'
import { openHeard } from '../../transcript/open-heard.ts'
import type { Transcript } from '../../transcript/transcript.ts'
import type { Database, SaidRow, Source, VisitRow } from '../store/database.ts'
import { type KeptVisit, keepCorrections, keepHearing, keepSaid } from '../store/visits.ts'
import type { YardInUse } from '../yard-in-use.ts'
import { sourceOf } from './source.ts'

/** How many answers are shown: what came before is in the transcript. */
const SHOWN = 8
/** Milliseconds after an utterance that make a pause: from then on work that was put off is done. */
const PAUSE = 120
/** Milliseconds after that work is done at which what is worked out from the whole visit is made anew. */
const SETTLE = 280
/** Milliseconds of work that was put off, at a time. */
const SLICE = 4
/** Milliseconds between two keepings of a sentence that is still being spoken. */
const HEARING = 300

/** An utterance and what the reader answered. */
export interface Heard {
  readonly seq: number
  readonly words: string
  readonly answer: Answer
}

/** The visit that is open: what was said, what was understood, what was put right. */
export interface VisitInHand {
  readonly row: ReadonlySignal<VisitRow>
  readonly said: ReadonlySignal<readonly SaidRow[]>
  /** Newest first. */
  readonly heard: ReadonlySignal<readonly Heard[]>
  readonly place: ReadonlySignal<PlaceInHand>
  /** Alarms that the keeper has not put away yet, the latest first. */
  readonly alarms: ReadonlySignal<readonly Alarm[]>
  /** What the rules lack for the hive in hand, as of the last pause. */
  readonly lacking: ReadonlySignal<readonly Lacking[]>
  /** The sentence that is being spoken, as far as it was made out. */
  readonly hearing: ReadonlySignal<string>
  readonly corrections: ReadonlySignal<readonly Correction[]>
  /** The whole visit as a person left it; these three are a moment behind while somebody speaks. */
  readonly transcript: ReadonlySignal<Transcript>
  readonly record: ReadonlySignal<InspectionRecord>
  readonly findings: ReadonlySignal<readonly Finding[]>
  readonly history: readonly InspectionRecord[]
  readonly yard: YardInUse | undefined
  /** Hears, answers and keeps one utterance. */
  say(words: string, by: Source): Answer
  setHearing(words: string): void
  /** The keeper has seen an alarm. */
  putAway(alarm: Alarm): void
  /** Keeps corrections and gives what they changed in the findings. */
  correct(bodies: readonly CorrectionBody[]): Promise<Change[]>
  /** Takes back the corrections that were made together last; gives what that changed. */
  undo(): Promise<Change[]>
  /** Others changed what is kept of it: it was handed over. */
  setRow(row: VisitRow): void
  /** Works out at once what waits for a pause. */
  settle(): void
  /** When everything said so far is on the disk. */
  kept(): Promise<void>
}

/** Opens a kept visit; `file` is the transcript of one that was brought. `lost` is told if something could not be kept. */
export function openVisit(
  db: Database,
  kept: KeptVisit,
  options: {
    yard: YardInUse | undefined
    history: readonly InspectionRecord[]
    file: Transcript | null
    lost: (error: Error) => void
  },
): VisitInHand {
  const { yard, history, file, lost } = options
  const { id, name, date, brought } = kept.row
  const live = createVisit({
    ...{ name, date, history },
    ...(yard && { parts: yard }),
    ...(kept.said.length > 0 && !brought && { restore: sourceOf(kept) }),
  })
  const began = Date.parse(kept.row.begun)
  const row = signal(kept.row)
  const said = signal<readonly SaidRow[]>(kept.said)
  const heard = signal<readonly Heard[]>([])
  const place = signal(live.where())
  const alarms = signal<readonly Alarm[]>([])
  const lacking = signal<readonly Lacking[]>(live.lacking())
  const hearing = signal('')
  const corrections = signal<readonly Correction[]>(kept.corrections)
  /** Grows whenever the slower views shall take in what was said. */
  const settled = signal(0)
  let waiting: ReturnType<typeof setTimeout> | undefined
  let keepingHearing: ReturnType<typeof setTimeout> | undefined
  // One after the other: what is being heard must not be kept behind the utterance that it became.
  let keeping: Promise<unknown> = Promise.resolve()
  const queue = <T>(work: () => Promise<T>): Promise<T | undefined> => {
    const next = keeping.then(work).catch((error: Error) => {
      lost(error)
      return undefined
    })
    keeping = next
    return next
  }

  const transcript = computed<Transcript>(() => {
    settled.value
    return file ?? spokenSoFar(live.transcript(), name)
  })
  const asRead = computed<InspectionRecord>(() => {
    settled.value
    return file ? readTranscript(file, { name, date, ...(yard && { yard: yard.hints }) }) : live.record()
  })
  const record = computed(() => applyCorrections(asRead.value, corrections.value, transcript.value.text).record)
  const findings = computed(() => judge(record.value, history, yard?.rules))

  /** Work that the answer did not wait for is done in small slices, so that the next utterance does not wait either. */
  const catchUp = (): void => {
    waiting = live.catchUp(SLICE) ? setTimeout(settle, SETTLE) : setTimeout(catchUp)
  }

  const settle = (): void => {
    clearTimeout(waiting)
    lacking.value = live.lacking()
    settled.value++
  }

  async function correct(bodies: readonly CorrectionBody[]): Promise<Change[]> {
    if (bodies.length === 0) return []
    settle()
    const before = findings.value
    const at = new Date().toISOString()
    const fresh = bodies.map((body) => stamped(body, { id: crypto.randomUUID(), at, who: WHO }))
    const now = await queue(() => keepCorrections(db, id, fresh))
    if (!now) return []
    batch(() => {
      row.value = now
      corrections.value = [...corrections.value, ...fresh]
    })
    return changesBetween(before, findings.value)
  }

  function say(words: string, by: Source, unfinished = false): Answer {
    const now = new Date()
    const answer = live.hear(words, { at: Math.max(0, Math.round((now.getTime() - began) / 100) / 10) })
    const seq = said.value.length
    const isOtherHive = answer.where.hive !== place.peek().hive
    const one: SaidRow = {
      ...{ visit: id, seq, text: words, line: live.kept(), at: now.toISOString(), by },
      ...(unfinished && { unfinished: true }),
    }
    batch(() => {
      said.value = [...said.value, one]
      heard.value = [{ seq, words, answer }, ...heard.value.slice(0, SHOWN - 1)]
      place.value = answer.where
      // Judging once more would cost as much as the answer itself: the list follows in the next pause.
      if (answer.isCommand?.kind === 'close') lacking.value = live.lacking()
      else if (isOtherHive) lacking.value = []
      if (answer.alarms.length > 0) alarms.value = [...answer.alarms, ...alarms.value]
      if (by === 'recognised') hearing.value = ''
    })
    if (by === 'recognised') {
      clearTimeout(keepingHearing)
      keepingHearing = undefined
    }
    void queue(() => keepSaid(db, one)).then((now) => {
      if (now) row.value = now
    })
    clearTimeout(waiting)
    waiting = setTimeout(catchUp, PAUSE)
    return answer
  }

  // The page ended in the middle of a sentence: what was made out of it until then was said all the same.
  if (kept.broken) {
    say(kept.broken.text, 'recognised', true)
    settle()
  }

  return {
    ...{ row, said, heard, place, alarms, lacking, hearing, corrections, transcript, record, findings, history, yard },
    say,
    setHearing(words) {
      if (words === hearing.value) return
      hearing.value = words
      keepingHearing ??= setTimeout(() => {
        keepingHearing = undefined
        void queue(() => keepHearing(db, id, hearing.value))
      }, HEARING)
    },
    putAway(alarm) {
      alarms.value = alarms.value.filter((one) => one !== alarm)
    },
    correct,
    undo() {
      const holding = standing(corrections.value)
      const last = holding.at(-1)
      return correct(
        holding.filter(({ at }) => at === last?.at).map(({ id: undoes }): CorrectionBody => ({ kind: 'undo', undoes })),
      )
    },
    setRow(fresh) {
      row.value = fresh
    },
    settle,
    kept: async () => {
      await keeping
    },
  }
}

/** What was spoken, with questions to the program left out; nothing yet is no fault. */
function spokenSoFar(text: string, name: string): Transcript {
  try {
    return openHeard(text, name)
  } catch (error) {
    if (error instanceof CombscribeError) return { name, format: 'heard', text: '', segments: [] }
    throw error
  }
}

/** Who put it right, as the logbook shows it: a page knows no names. */
const WHO = 'the page'
