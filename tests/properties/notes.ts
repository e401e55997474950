import fc from 'fast-check'
import { utterancesOf } from '../../src/read.ts'
import { openTranscript } from '../../src/transcript/open.ts'
import type { Transcript } from '../../src/transcript/transcript.ts'
// @ts-expect-error: development tools are plain JavaScript
import { labelledFiles } from '../tools/labelled.mjs'

/** Labelled notes as material for property tests; those whose number is divisible by three stay unseen. */
const folders = ['corpus/tuned', 'own/a', 'own/b', 'own/d', 'own/e', 'own/f', 'own/g']

export interface Note {
  readonly name: string
  readonly date: string
  readonly transcript: Transcript
}

export const notes: readonly Note[] = labelledFiles(new URL('../../', import.meta.url), {
  dirs: folders.map((folder) => `fixtures/${folder}`),
  keep: (number: number) => number % 3 !== 0,
}).map(
  ({ note, gold, source, bytes }: { note: string; gold: { date: string }; source: string; bytes: Uint8Array }) => ({
    name: note,
    date: gold.date,
    transcript: openTranscript(bytes, source),
  }),
)

/** What was said in one go, with the mark behind it, from all notes. */
export const sentences: readonly string[] = notes.flatMap(({ transcript }) =>
  utterancesOf(transcript).map(({ start, end, words }) => {
    const mark = words[words.length - 1]!.mark
    return transcript.text.slice(start, end).replace(/\s+/g, ' ') + (mark === '' ? '.' : mark)
  }),
)

/** Sentences of several notes in any order: speech that nobody looked at before. */
export const mixture = fc
  .array(fc.tuple(fc.constantFrom(...sentences), fc.constantFrom(' ', ' ', ' ', '\n', '\n\n', ' um, ')), {
    minLength: 1,
    maxLength: 25,
  })
  .map((parts) => parts.map(([sentence, gap]) => sentence + gap).join(''))
