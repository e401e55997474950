import type { ReadableStream } from 'node:stream/web'
import type { Correction } from '../corrections/correction.ts'
import type { YardHints } from '../read.ts'
import type { Due } from '../report/due.ts'
import type { visitValues } from '../report/visit.ts'
import type { Finding } from '../rules/finding.ts'
import type { YardForRules } from '../rules/settings.ts'

/** What the server can do for the page; what is not there is answered by a sentence that says so. */
export interface Services {
  /** What the page must know at its start. */
  readonly home: Home
  /** Takes a recording (WAV) in and, when it is its turn, hears it with the yard file's recogniser. */
  readonly transcribe?: (audio: ReadableStream<Uint8Array>, gone: AbortSignal, inTurn: InTurn) => Promise<Heard>
  readonly logbook?: LogbookService
  /** A fault of the program itself, as one sentence without anything that was said. */
  readonly report: (sentence: string) => void
  /** The calendar day here and now, ISO. */
  readonly today: () => string
  /** Aborted when the server ends: what runs is given up. */
  readonly ending: AbortSignal
}

/** Does the work when what came before it is done. */
export type InTurn = <T>(work: () => Promise<T>) => Promise<T>

export interface Home {
  readonly version: string
  /** Whether recordings can be heard here, and whether there is a logbook. */
  readonly recogniser: boolean
  readonly logbook: boolean
  /** The yard file's part for the reader and the part for the rules; null without a yard file. */
  readonly yard: { readonly hints: YardHints; readonly rules: YardForRules } | null
}

export interface Heard {
  /** What was said, as plain text; empty where nothing was. */
  readonly transcript: string
  /** Word by word, where the recogniser told: offsets in `transcript`, seconds in the recording. */
  readonly words?: readonly {
    readonly start: number
    readonly end: number
    readonly at?: number
    readonly until?: number
    readonly confidence?: number
  }[]
}

/** A visit that the page hands over. */
export interface HandedOver {
  /** The page's name for it, the same every time it hands it over. */
  readonly name: string
  /** ISO day. */
  readonly date: string
  readonly text: string
  readonly corrections: readonly Correction[]
}

export interface Kept {
  readonly kept: 'new' | 'same' | 'changed'
  readonly findings: readonly Finding[]
}

export interface LogbookService {
  /** Keeps a note and judges it with the history of its hives. The same note handed over twice is kept once. */
  keep(visit: HandedOver): Promise<Kept>
  /** Labels of hives with the number of notes that speak of each. */
  hives(): Promise<readonly { hive: string; notes: number }[]>
  /** The visits of one hive, first to last. */
  history(hive: string): Promise<readonly Visit[]>
  /** What is due over all hives, by day, with the date of the visit that it comes from. */
  due(today: string): Promise<readonly (Due & { readonly date: string })[]>
}

/** One visit of one hive, as numbers and words to draw. */
export interface Visit {
  readonly date: string
  readonly note: string
  /** By field; what was not said is left out. */
  readonly values: ReturnType<typeof visitValues>
}
