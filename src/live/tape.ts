import { type HeardLine, layOutHeard } from '../transcript/formats/heard.ts'
import type { Segment, TimedWord, Transcript } from '../transcript/transcript.ts'

/** What may be told of an utterance beside its words. */
export interface HeardHow {
  /** Seconds since the visit began. */
  readonly at?: number
  readonly until?: number
  /** 0..1, the recogniser's own estimate for the whole. */
  readonly confidence?: number
  /** Word by word, where the recogniser says so. */
  readonly words?: readonly { readonly text: string; readonly at?: number; readonly confidence?: number }[]
}

/** All that was heard in a visit, growing by one utterance after the other. */
export interface Tape {
  /** The whole, as it stands now: its text and segments grow. */
  readonly transcript: Transcript
  readonly lines: readonly HeardLine[]
  /** Adds an utterance; gives it as a transcript of its own whose offsets are those of the whole. */
  add(line: HeardLine): Transcript
  /** Takes the last utterance away. */
  drop(): void
}

export function newTape(name: string): Tape {
  const lines: HeardLine[] = []
  const segments: Segment[] = []
  const words: TimedWord[] = []
  /** How much there was of text, segments and words before each line. */
  const before: [number, number, number][] = []
  let text = ''
  const transcript: Transcript = {
    name,
    format: 'heard',
    get text() {
      return text
    },
    segments,
    words,
    confidenceKind: 'vendor',
  }
  return {
    transcript,
    lines,
    add(line) {
      lines.push(line)
      before.push([text.length, segments.length, words.length])
      const own = layOutHeard([line])
      if (own.text === '') return { ...transcript, segments: [], words: [] }
      const offset = text === '' ? 0 : text.length + 1
      text += `${text === '' ? '' : '\n'}${own.text}`
      const move = <S extends Segment | TimedWord>(span: S): S => ({
        ...span,
        start: span.start + offset,
        end: span.end + offset,
      })
      const fresh = { segments: own.segments.map(move), words: (own.words ?? []).map(move) }
      segments.push(...fresh.segments)
      words.push(...fresh.words)
      return { name, format: 'heard', text, ...fresh }
    },
    drop() {
      lines.pop()
      const [length, segmentCount, wordCount] = before.pop() ?? [0, 0, 0]
      text = text.slice(0, length)
      segments.length = segmentCount
      words.length = wordCount
    },
  }
}

/** One line of the kept transcript, with its line break. */
export const keptLine = (line: HeardLine): string => `${JSON.stringify(line)}\n`

/** The first line of a kept transcript: the day of the visit. */
export const keptHead = (date: string | undefined): string => `${JSON.stringify({ visit: date ?? null })}\n`
