// Short notes in which the hive of every stretch is marked (fixtures/hives): what is said, and which hive is due where.
import { readdirSync, readFileSync } from 'node:fs'
import { bare } from './labelled.mjs'
import { piecesOf } from './told-notes.mjs'

/** Notes whose number within the file three divides are kept out of fitting. */
export const isKept = (name) => Number(name.split('-').at(-1)) % 3 === 0

/** One file as notes: name and stretches, each with the labels of its hives (none: no single hive). */
export function parseHiveNotes(table) {
  return piecesOf(table).map(({ head: [name], body }) => {
    const stretches = body
      .split(/(?=\{[^{}]*\})/)
      .filter((said) => said.trim() !== '')
      .map((said) => {
        const [mark, labels] = /^\{([^{}]*)\}/.exec(said) ?? ['', '']
        return {
          labels: labels
            .split('+')
            .map((label) => label.trim())
            .filter(Boolean),
          said: said.slice(mark.length),
        }
      })
    return { name: name.trim(), stretches }
  })
}

/** The text of a note and where each stretch stands in it; `isBare`: lower case without punctuation. */
export function spoken({ stretches }, isBare) {
  let text = ''
  const out = []
  for (const { labels, said } of stretches) {
    const words = isBare ? bare(said).trim() : said
    if (isBare && text !== '' && words !== '') text += ' '
    out.push({ start: text.length, end: text.length + words.trimEnd().length, labels })
    text += words
  }
  return { text, stretches: out }
}

/** All notes of the folder. */
export function hiveNotes(root) {
  const folder = new URL('fixtures/hives/', root)
  return readdirSync(folder)
    .filter((file) => file.endsWith('.txt'))
    .sort()
    .flatMap((file) => parseHiveNotes(readFileSync(new URL(file, folder), 'utf8')))
}

/**
 * Which hive is due where: at the end of each stretch, and where the reader finds something of a hive in it. What is about no
 * single hive counts as long as none was called.
 */
export function duesOf({ text, stretches }, readNote, placedReadings) {
  const due = []
  const isWhole = /^(visit|weather|flow|forage)\b/
  const said = placedReadings(readNote(text, { name: 'note', date: '2026-05-20' }))
    .filter(({ reading }) => !isWhole.test(reading.field))
    .map(({ reading }) => reading.evidence.at(-1).end)
  let begun = false
  for (const { start, end, labels } of stretches) {
    begun ||= labels.length > 0
    if (labels.length === 0 && begun) continue
    const ends = new Set([...said.filter((at) => at > start && at <= end), end])
    for (const at of [...ends].sort((a, b) => a - b))
      due.push({ at, start: Math.max(start, at - 30), labels: labels.length > 0 ? labels : [''] })
  }
  return due
}
