import type { Correction } from '../corrections/correction.ts'
import type { YardHints } from '../read.ts'
import type { Finding } from '../rules/finding.ts'
import type { YardForRules } from '../rules/settings.ts'

/** What the server can do for the page; what is not there is answered by a sentence that says so. */
export interface Services {
  /** What the page must know at its start. */
  readonly home: Home
  /** Hears a recording (WAV) with the yard file's recogniser. Rejects with a CombscribeError. */
  readonly transcribe?: (audio: Uint8Array, gone: AbortSignal) => Promise<Heard>
  readonly logbook?: LogbookService
  /** A fault of the program itself, as one sentence without anything that was said. */
  readonly report: (sentence: string) => void
}

export interface Home {
  readonly version: string
  /** Whether recordings can be heard here, and whether there is a logbook. */
  readonly recogniser: boolean
  readonly logbook: boolean
  /** The yard file's part for the reader and the part for the rules; null without a yard file. */
  readonly yard: { readonly hints: YardHints; readonly rules: YardForRules } | null
}

export interface Heard {
  /** What was said, as plain text. */
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

export interface LogbookService {
  /** Keeps a note and judges it with the history of its hives. The same note handed over twice is kept once. */
  keep(note: HandedOver): Promise<{ kept: 'new' | 'same' | 'changed'; findings: readonly Finding[] }>
  /** Labels of hives with the number of notes that speak of each. */
  hives(): Promise<readonly { hive: string; notes: number }[]>
  /** The visits of one hive, first to last. */
  history(hive: string): Promise<readonly Visit[]>
  /** What is due over all hives, by day. */
  due(today: string): Promise<readonly DueRow[]>
}

/** One visit of one hive, as numbers and words to draw. */
export interface Visit {
  readonly date: string
  readonly note: string
  readonly values: Readonly<Record<string, VisitValue>>
}

export interface VisitValue {
  /** A number (a range by its middle) or a word. */
  readonly value: number | string
  /** Ends of a range that was said, or of the 95 % interval of a count of mites. */
  readonly low?: number
  readonly high?: number
  readonly unit: string | null
  readonly flag: 'sure' | 'check' | 'guess'
}

export interface DueRow {
  /** ISO day; null for a plan without one. */
  readonly day: string | null
  readonly hive: string
  readonly what: string
  readonly between: string
  readonly isSure: boolean
  /** The visit that it comes from. */
  readonly date: string
}
