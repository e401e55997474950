import { readdirSync, readFileSync } from 'node:fs'
import fc from 'fast-check'
import { utterancesOf } from '../../src/read.ts'
import { openTranscript } from '../../src/transcript/open.ts'
import type { Transcript } from '../../src/transcript/transcript.ts'

/** Labelled notes as material for property tests; those whose number is divisible by three stay unseen. */
const folders = ['corpus/tuned', 'own/a', 'own/b', 'own/d', 'own/e', 'own/f', 'own/g']

export interface Note {
  readonly name: string
  readonly date: string
  readonly transcript: Transcript
}

export const notes: readonly Note[] = folders.flatMap((folder) => {
  const place = new URL(`../../fixtures/${folder}/`, import.meta.url)
  const files = readdirSync(place).sort()
  return files.flatMap((file) => {
    const name = file.replace('.gold.json', '')
    if (name === file || Number(name.split('-')[1]) % 3 === 0) return []
    const source = files.find((other) => other !== file && other.replace(/\.[a-z]+$/, '') === name)
    if (!source) throw new Error(`fixtures/${folder}/${file} has no note beside it; add the note or remove the labels.`)
    const { date } = JSON.parse(readFileSync(new URL(file, place), 'utf8')) as { date: string }
    return [{ name, date, transcript: openTranscript(readFileSync(new URL(source, place)), source) }]
  })
})

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
