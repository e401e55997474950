// Learns what amounts are amounts of and writes src/clauses/amounts.json: node tests/tools/fit-amounts.mjs [--dry]
import { writeFileSync } from 'node:fs'
import { amountsOfNotes, learnAmounts } from './amounts.mjs'

const rows = amountsOfNotes()
const learned = learnAmounts(rows)
const packed = JSON.stringify(learned, null, 2)
console.log(
  `${rows.length} amounts, ${learned.fields.split(' ').length} fields: ${(packed.length / 1000).toFixed(1)} kB`,
)
if (!process.argv.includes('--dry'))
  writeFileSync(new URL('../../src/clauses/amounts.json', import.meta.url), `${packed}\n`)
