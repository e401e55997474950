// Learns what clauses say and writes src/clauses/clauses.json: node tests/tools/fit-clauses.mjs [--dry]
import { writeFileSync } from 'node:fs'
import { brotliCompressSync } from 'node:zlib'
import { inside, learn, ofNotes, ofOthers } from './clauses.mjs'

const notes = ofNotes()
const others = ofOthers()
const rows = [...notes.flatMap((note) => note.rows), ...others]
console.log(`${rows.length} clauses, ${rows.length - others.length} of them of labelled notes`)
const learned = learn(
  rows,
  notes.flatMap((note) => note.amounts),
)
const model = inside.unpackClauses(learned)
const packed = JSON.stringify(learned, null, 2)
console.log(
  `${model.facts.length} facts, ${model.low.length} cues, ${model.on.length} weights: ${(packed.length / 1000).toFixed(1)} kB, ${(brotliCompressSync(packed).length / 1000).toFixed(1)} kB packed`,
)
if (!process.argv.includes('--dry'))
  writeFileSync(new URL('../../src/clauses/clauses.json', import.meta.url), `${packed}\n`)
