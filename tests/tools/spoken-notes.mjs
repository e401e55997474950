// The notes that are spoken aloud for the recogniser: notes for work of our own, four of each part, and four more.
import { readdirSync, readFileSync } from 'node:fs'

const VOICES = ['slt', 'rms', 'awb', 'kal16']
const NOTES = {
  a: ['a-01', 'a-04', 'a-08', 'a-13'],
  b: ['b-01', 'b-07', 'b-11', 'b-14'],
  c: ['c-01', 'c-04', 'c-07', 'c-11'],
  d: ['d-02', 'd-07', 'd-11', 'd-13'],
}

/** Each spoken note: its voice, its text and labels, and the file with what was heard. */
export function spokenNotes(root) {
  const at = (path) => new URL(`fixtures/${path}`, root)
  const own = Object.entries(NOTES).flatMap(([part, notes]) => notes.map((note) => [note, `own/${part}/${note}`]))
  const more = readdirSync(at('speech/'))
    .filter((file) => file.endsWith('.gold.json'))
    .sort()
    .map((file) => [file.replace('.gold.json', ''), `speech/${file.replace('.gold.json', '')}`])
  return [...own, ...more].map(([note, path], i) => {
    const voice = VOICES[i % VOICES.length]
    return {
      note,
      voice,
      text: readFileSync(at(`${path}.txt`), 'utf8'),
      gold: { ...JSON.parse(readFileSync(at(`${path}.gold.json`), 'utf8')), note },
      heard: at(`speech/${note}.${voice}.heard.txt`),
    }
  })
}

/** What a synthesiser should read: one sentence a line, so that it pauses where a speaker does. */
export const spoken = (text) =>
  text
    .replace(/[’]/g, "'")
    .replace(/…|\.{2,}/g, ', ')
    .replace(/\s+/g, ' ')
    .replace(/([.!?])\s+/g, '$1\n')
