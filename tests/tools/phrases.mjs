// Phrases that are misread, table by table: node tests/tools/phrases.mjs [TABLE …] [--backlog]
// Those of `kept/` are only counted: nobody looks at them while working on the reader.
import { readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { load } from './load.mjs'
import { rates } from './score-readings.mjs'

const args = process.argv.slice(2)
const dir = 'fixtures/phrases'
const { readNote, flatten } = await load('tests/tools/inside.ts')
const { factsRead, phraseLines } = await load('tests/phrases.ts')
const named = args.filter((a) => !a.startsWith('--'))
const tablesOf = (folder) => readdirSync(folder).filter((f) => f.endsWith('.txt') && f !== 'backlog.txt')

/** Counts a table line by line and fact by fact, and hands each misread line to `misread`. */
function count(path, misread = () => {}) {
  const rows = readFileSync(path, 'utf8').split('\n')
  const facts = { right: 0, wrong: 0, missed: 0 }
  let right = 0
  const lines = phraseLines(rows.join('\n'))
  for (const line of lines) {
    const got = factsRead(flatten(readNote(line.said, { name: 'phrase', date: '2026-06-10' })), line.facts)
    const over = [...got]
    for (const fact of line.facts) {
      const at = over.indexOf(fact)
      if (at >= 0) over.splice(at, 1)
      facts[at >= 0 ? 'right' : 'missed']++
    }
    facts.wrong += over.length
    if (got.join() === line.facts.join()) right++
    else
      misread(
        line,
        got,
        rows.find((row) => row.startsWith(`${line.said} => `)),
      )
  }
  const { precision, recall } = rates(facts)
  const percent = (x) => `${(100 * x).toFixed(1)} %`
  return `${right} of ${lines.length} lines; of the facts precision ${percent(precision)}, recall ${percent(recall)}`
}

let backlog =
  '# Phrases of the other tables that are still misread. The list may only shrink: a line that is read right must leave it.\n'
for (const file of tablesOf(dir)) {
  if (named.length > 0 && !named.includes(file.replace('.txt', ''))) continue
  const counted = count(`${dir}/${file}`, (line, got, row) => {
    console.log(`${file}  ${line.said}\n      want ${line.facts.join('  ')}\n      got  ${got.join('  ')}`)
    backlog += `${row}\n`
  })
  console.log(`${file}: ${counted}`)
}
for (const file of tablesOf(`${dir}/kept`)) console.log(`kept/${file}: ${count(`${dir}/kept/${file}`)}`)
if (args.includes('--backlog') && named.length === 0) writeFileSync(`${dir}/backlog.txt`, backlog)
