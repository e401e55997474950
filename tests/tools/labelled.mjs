// The labelled notes read with the sources as they are, and each reading judged: the data that confidence is fitted on.
import { readdirSync, readFileSync } from 'node:fs'
import { scoreReadings } from './score-readings.mjs'
import { isToldKept, toldNotes } from './told-notes.mjs'

/** Notes for work; and those kept out: a third of the own notes, and a whole folder. */
export const PARTS = {
  fit: {
    dirs: ['fixtures/corpus/tuned', ...['a', 'b', 'c', 'd', 'e', 'f', 'g'].map((part) => `fixtures/own/${part}`)],
    keep: (number) => number % 3 !== 0,
  },
  /** Walks over the frames of one hive each, of which it is not said which. */
  walks: { dirs: ['fixtures/own/w'], keep: (number) => number % 3 !== 0 },
  /** Notes with their labels in the text; and a fifth of them. */
  told: { told: (name) => !isToldKept(name) },
  'told kept': { told: isToldKept },
  kept: { dirs: ['fixtures/corpus/kept'], keep: () => true },
  'own kept': {
    dirs: ['a', 'b', 'd', 'e', 'f', 'g'].map((part) => `fixtures/own/${part}`),
    keep: (number) => number % 3 === 0,
  },
}

/** Lower case without punctuation, as many recognisers write. */
export const bare = (text) =>
  text
    .toLowerCase()
    .replace(/[.,!?;:…—–"“”()[\]]+(?=\s|$)|(?<=\s|^)[-—–"“”([]+|\.\.\./g, ' ')
    .replace(/\s+/g, ' ')

/** The labelled notes of some folders whose number is wanted: name, labels, file and bytes of what the recogniser wrote. */
export function labelledFiles(root, { dirs, keep, told }) {
  if (told)
    return toldNotes(root)
      .filter(({ gold }) => told(gold.note))
      .map(({ gold, text }) => ({ note: gold.note, gold, source: `${gold.note}.txt`, bytes: Buffer.from(text) }))
  return dirs.flatMap((dir) => {
    const folder = new URL(`${dir}/`, root)
    const files = readdirSync(folder).sort()
    return files.flatMap((file) => {
      const note = file.replace('.gold.json', '')
      if (note === file || !keep(Number(note.split('-')[1]))) return []
      const source = files.find((other) => other !== file && other.replace(/\.[a-z]+$/, '') === note)
      if (!source) throw new Error(`${dir}/${file} has no note beside it; add the note or remove the labels.`)
      const gold = { ...JSON.parse(readFileSync(new URL(file, folder), 'utf8')), note }
      return [{ note, gold, source, bytes: readFileSync(new URL(source, folder)) }]
    })
  })
}

/** The notes of a part, each as written and bare. */
export function notesOf({ openTranscript }, root, part) {
  return labelledFiles(root, PARTS[part]).map(({ note, gold, source, bytes }) => {
    const written = openTranscript(bytes, source)
    const spoken = written.segments.map(({ start, end }) => written.text.slice(start, end)).join(' ')
    return { note, gold, inputs: { written, bare: bare(spoken) } }
  })
}

/** For each note, the grammar lines that no other note of the list needs. */
export function linesOfOneNote({ linesIn }, notes) {
  const users = new Map()
  for (const { note, inputs } of notes)
    for (const input of [inputs.written, inputs.bare])
      for (const line of linesIn(input)) users.set(line, (users.get(line) ?? new Set()).add(note))
  const out = new Map(notes.map(({ note }) => [note, new Set()]))
  for (const [line, names] of users) if (names.size === 1) out.get([...names][0]).add(line)
  return out
}

const anyHive = (fact) => ({ ...fact, hive: '' })

/**
 * Every judged reading of some notes: note, features, whether it is right, whether its value is right at this hive or
 * another, whether the note was read bare.
 */
export function judgedReadings({ readNote, placedReadings }, notes, optionsFor = () => ({})) {
  const out = []
  for (const { note, gold, inputs } of notes) {
    const options = optionsFor(note)
    const ofAnyHive = { ...gold, facts: gold.facts.map(anyHive), optional: (gold.optional ?? []).map(anyHive) }
    for (const [form, input] of Object.entries(inputs)) {
      const record = readNote(input, { name: note, date: gold.date, ...options })
      const said = placedReadings(record).map(({ reading, ...place }, nth) => ({ ...reading, ...place, nth }))
      const { judged } = scoreReadings([gold], new Map([[note, said]]))
      const loosely = scoreReadings([ofAnyHive], new Map([[note, said.map(anyHive)]])).judged
      const isThere = new Set(loosely.filter(({ isRight }) => isRight).map(({ reading }) => reading.nth))
      for (const { isRight, reading } of judged) {
        const { field, value, quote, features, how, hive } = reading
        const isValueRight = isRight || isThere.has(reading.nth)
        out.push({ note, isBare: form === 'bare', isRight, isValueRight, how, hive, field, value, quote, features })
      }
    }
  }
  return out
}
