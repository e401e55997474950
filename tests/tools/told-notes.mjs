// Notes with the hive of each stretch and every fact marked in the text (fixtures/told): what is said, and its labels.
import { readdirSync, readFileSync } from 'node:fs'

/** A fifth of the notes, spread over the files, is kept out of fitting. */
export const isToldKept = (name) => {
  const [file, nth] = name.split('-').slice(-2).map(Number)
  return (file + nth) % 5 === 0
}

/** A table of notes in pieces: each begins with `# ` and a line of what stands between bars, then what is said. */
export const piecesOf = (table) =>
  table
    .split(/^# /m)
    .slice(1)
    .map((piece) => {
      const cut = piece.indexOf('\n')
      return { head: piece.slice(0, cut).split('|'), body: piece.slice(cut + 1).trimEnd() }
    })

const valueIn = (said) => {
  const [, low, how, high] = /^(-?[\d.]+)(\.\.|~)(-?[\d.]+)$/.exec(said) ?? []
  if (how) return how === '~' ? { between: [Number(low), Number(high)] } : [Number(low), Number(high)]
  return /^-?\d+(\.\d+)?$/.test(said) ? Number(said) : said
}

/** What is seen on a comb: of several combs together it has one mark. */
const OF_COMB = /^(frame\.|honey\.|comb\.|brood\.coverPercent)/

/** Facts of the visit, whatever hive is in hand. */
const OF_VISIT = /^(visit|weather)\.|^forage$/

/**
 * One file as labelled notes: `{ gold, text, marks }`. A mark `{1+3}` says what hives are meant from there on (`marks`: where, and their labels), `[words |
 * field=value; ?field=value@hive]` what the words tell (`?`: two careful people could differ).
 */
export function parseToldNotes(table) {
  return piecesOf(table).map(({ head: [note, date, ...style], body }) => {
    const gold = { note: note.trim(), date: date.trim(), style: style.join('|').trim(), facts: [], optional: [] }
    const marks = []
    let text = ''
    let labels = []
    for (const { 0: piece, groups } of body
      .trimStart()
      .matchAll(/\{(?<hives>[^{}]*)\}|\[(?<words>[^[\]|]*)\|(?<facts>[^[\]]*)\]|(?<plain>[^{[]+|[{[])/g)) {
      if (groups.hives !== undefined) {
        labels = groups.hives.split('+').flatMap((label) => label.trim().toLowerCase() || [])
        marks.push({ at: text.length, labels })
        continue
      }
      const said = groups.words === undefined ? piece : groups.words.trim()
      text += said
      for (const fact of (groups.facts ?? '').split(';')) {
        const hit = /^\s*(\??)([\w.]+)=([^@]+?)(?:@(.*))?\s*$/.exec(fact)
        if (!hit) continue
        const [, doubt, field, value, of] = hit
        const hives = OF_VISIT.test(field) ? [''] : of !== undefined ? of.split('+') : labels.length > 0 ? labels : ['']
        for (const hive of hives)
          gold[doubt ? 'optional' : 'facts'].push({
            hive: hive.trim(),
            field,
            value: valueIn(value),
            quote: said,
            start: text.length - said.length,
          })
      }
    }
    // "six and seven, the same": no frames are labelled, so the same again of one hive's combs is neither right nor wrong
    gold.optional.push(...gold.facts.filter(({ field }) => OF_COMB.test(field)).map((fact) => ({ ...fact, quote: '' })))
    // its date stands at the head: where it is said as well it need not have been marked
    if (!gold.facts.some(({ field }) => field === 'visit.date'))
      gold.optional.push({ hive: '', field: 'visit.date', value: gold.date, quote: '' })
    return { gold, text, marks }
  })
}

/** All notes of the folder. */
export function toldNotes(root) {
  const folder = new URL('fixtures/told/', root)
  return readdirSync(folder)
    .sort()
    .flatMap((file) => parseToldNotes(readFileSync(new URL(file, folder), 'utf8')))
}
