import { mkdirSync, utimesSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { type GeneratedNote, generatedNotes } from './notes.ts'

export { generatedNotes }

/** As a subtitle file: a cue a sentence, four seconds each. */
function subtitles(text: string): string {
  const clock = (seconds: number) => `${new Date(seconds * 1000).toISOString().slice(11, 19)},000`
  const cues = text.split(/(?<=[.!?]) /)
  return `${cues.map((cue, i) => `${i + 1}\n${clock(i * 4)} --> ${clock(i * 4 + 4)}\n${cue}\n`).join('\n')}`
}

/** The bytes of a note's file. */
export const fileText = ({ ending, text }: GeneratedNote): string => (ending === 'srt' ? subtitles(text) : `${text}\n`)

/**
 * Writes notes into a folder, a hundred yards to a folder in it, each file with the time of its visit. With `labels`, a
 * NAME.gold.json beside each.
 */
export function writeNotes(
  folder: string,
  count: number,
  { seed, labels = false }: { seed?: string; labels?: boolean } = {},
): void {
  let at = 0
  for (const note of generatedNotes(count, seed)) {
    const sub = join(folder, String(Math.floor(at++ / 1000)).padStart(3, '0'))
    if (at % 1000 === 1) mkdirSync(sub, { recursive: true })
    const path = join(sub, `${note.note}.${note.ending}`)
    writeFileSync(path, fileText(note))
    const noon = new Date(`${note.date}T12:00:00`)
    utimesSync(path, noon, noon)
    if (!labels) continue
    const { note: name, date, style, facts, optional } = note
    writeFileSync(join(sub, `${name}.gold.json`), JSON.stringify({ note: name, date, style, facts, optional }, null, 1))
  }
}
