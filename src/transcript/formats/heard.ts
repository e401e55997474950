import * as z from '../../zod.ts'
import { checked, maybe, objectsOf, seconds, unit } from '../json-shape.ts'
import { readJson } from '../json-values.ts'
import { known } from '../known.ts'
import { layOut, type Piece } from '../lay-out.ts'
import type { Format, Opened, Source } from '../source.ts'

/**
 * What a visit that was heard live is kept as: JSON Lines, one utterance a line, written while it was spoken. `heard` is the
 * utterance's number; a later line of the same number replaces it (an empty `text` takes it away). `asked` marks words that were
 * meant for the program ("what's missing"): they stay in the text and are no speech. A line `{"visit": DAY}` says the day.
 */
export const heard: Format = {
  id: 'heard',
  title: 'a visit heard live',
  asHeard: true,
  detect: (source) =>
    objectsOf(source).some((value) => Number.isInteger(value.heard) && typeof value.text === 'string'),
  open(source) {
    const { lines, day } = linesOf(source)
    return { ...layOutHeard(lines), ...known({ recordedAt: day }) }
  },
}

/** The utterances of such a text, the last wording of each, and the day of the visit. Throws a CombscribeError for any other text. */
export function heardLines(text: string, name: string): { lines: HeardLine[]; day: string | undefined } {
  const json = text.trim() === '' ? undefined : readJson(text, name)
  return linesOf({ name, text, ...(json && { json: json.values }) })
}

function linesOf(source: Source): { lines: HeardLine[]; day: string | undefined } {
  const objects = objectsOf(source)
  const lines = new Map<number, HeardLine>()
  for (const value of objects) {
    if (!('heard' in value)) continue
    const line = checked(schema, value, source, heard.title)
    lines.set(line.heard, line)
  }
  const day = objects.map(({ visit }) => visit).find((visit) => typeof visit === 'string' && DAY.test(visit))
  return { lines: [...lines.values()], day: typeof day === 'string' ? day : undefined }
}

const DAY = /^\d{4}-\d\d-\d\d$/

const schema = z.object({
  heard: z.int().check(z.nonnegative()),
  text: z.string(),
  /** Seconds since the visit began. */
  at: maybe(seconds),
  until: maybe(seconds),
  confidence: maybe(unit),
  asked: maybe(z.boolean()),
  words: maybe(z.array(z.object({ text: z.string(), at: maybe(seconds), confidence: maybe(unit) }))),
})

/** One utterance as it is kept. */
export type HeardLine = z.output<typeof schema>

/** Utterances as a transcript: each is a segment of its own, but for what was asked of the program. */
export function layOutHeard(lines: readonly HeardLine[]): Opened {
  const spoken = lines.filter(({ text }) => text.trim() !== '')
  const opened = layOut(spoken.map(pieceOf), 'vendor')
  return { ...opened, segments: opened.segments.filter((_, i) => !spoken[i]!.asked) }
}

function pieceOf({ text, at, until, confidence, words }: HeardLine): Piece {
  return {
    text,
    ...known({ at, until, confidence }),
    ...(words && words.length > 0 && { words: words.map((word) => ({ text: word.text, ...known(word) })) }),
  }
}
