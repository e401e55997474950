import type { Notice, Transcript } from './transcript.ts'

/** A decoded file, before anybody knows its format. */
export interface Source {
  /** The file's name, for messages. */
  readonly name: string
  readonly text: string
  /** The JSON values in it, in order: one document, JSON Lines, or objects printed one after another. */
  readonly json?: readonly unknown[]
}

export interface OpenOptions {
  /** Whether a word belongs to the trade; a segment that holds one is never taken for an invented one. */
  readonly isTradeWord?: (word: string) => boolean
  /** The hint that the recogniser was given, if it is known: recognisers echo it when they hear nothing. */
  readonly hint?: string
}

export type Opened = Pick<Transcript, 'text' | 'segments' | 'words' | 'confidenceKind' | 'recordedAt'> & {
  readonly notices?: readonly Notice[]
}

/** One way in which speech-to-text output is written down. Adding one is a file in `formats/` and a line in `formats.ts`. */
export interface Format {
  readonly id: string
  /** What a person calls it; listed when a file is of no known shape. */
  readonly title: string
  /** It was answered while it was spoken: nothing in it is doubted afterwards. */
  readonly asHeard?: true
  /** Whether the file is of this format, judged by its content alone. */
  detect(source: Source): boolean
  open(source: Source, options: OpenOptions): Opened
}
