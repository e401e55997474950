// The labelled notes read with the sources as they are, and each reading judged: the data that confidence is fitted on.
import { readdirSync, readFileSync } from 'node:fs'
import { scoreReadings } from './score-readings.mjs'

/** Notes for work; and those kept out: a third of the own notes, and a whole folder. */
export const PARTS = {
  fit: { dirs: ['fixtures/corpus/tuned', 'fixtures/own/a', 'fixtures/own/b'], keep: (number) => number % 3 !== 0 },
  kept: { dirs: ['fixtures/corpus/kept'], keep: () => true },
  'own kept': { dirs: ['fixtures/own/a', 'fixtures/own/b'], keep: (number) => number % 3 === 0 },
}

/** Lower case without punctuation, as many recognisers write. */
const bare = (text) =>
  text
    .toLowerCase()
    .replace(/[.,!?;:…—–"“”()[\]]+(?=\s|$)|(?<=\s|^)[-—–"“”([]+|\.\.\./g, ' ')
    .replace(/\s+/g, ' ')

/** Every judged reading of a part: note, field, features, whether it is right, whether the note was read bare. */
export function judgedReadings({ readNote, placedReadings, openTranscript }, root, part) {
  const { dirs, keep } = PARTS[part]
  const out = []
  for (const dir of dirs) {
    const folder = new URL(`${dir}/`, root)
    const files = readdirSync(folder).sort()
    for (const file of files) {
      if (!file.endsWith('.gold.json')) continue
      const note = file.replace('.gold.json', '')
      if (!keep(Number(note.split('-')[1]))) continue
      const gold = JSON.parse(readFileSync(new URL(file, folder), 'utf8'))
      const source = files.find((other) => other !== file && other.replace(/\.[a-z]+$/, '') === note)
      const transcript = openTranscript(readFileSync(new URL(source, folder)), source)
      const spoken = transcript.segments.map(({ start, end }) => transcript.text.slice(start, end)).join(' ')
      for (const [input, isBare] of [
        [transcript, false],
        [bare(spoken), true],
      ]) {
        const record = readNote(input, { name: note, date: gold.date })
        const said = placedReadings(record).map(({ reading, ...place }) => ({ ...reading, ...place }))
        const { judged } = scoreReadings([{ ...gold, note }], new Map([[note, said]]))
        for (const { isRight, reading } of judged) {
          const { field, value, quote, features, how } = reading
          out.push({ note, isBare, isRight, how, field, value, quote, features, hive: reading.hive })
        }
      }
    }
  }
  return out
}
