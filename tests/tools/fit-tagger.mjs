// Learns the tagger (src/clauses/tagger.ts) and writes src/clauses/tagger.json.
// usage: node tests/tools/fit-tagger.mjs
import { once } from 'node:events'
import { createWriteStream, mkdtempSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { inside, utterancesIn } from './clauses.mjs'
import { taggerData } from './tagger-data.mjs'
import { learnedBy, writeReference } from './torch.mjs'

const folder = mkdtempSync(join(tmpdir(), 'tagger-'))
const rows = join(folder, 'rows.jsonl')
const out = createWriteStream(rows)
out.write(`${JSON.stringify({ newer: inside.NEWER.source })}\n`)
for (const row of taggerData()) out.write(`${JSON.stringify(row)}\n`)
out.end()
await once(out, 'finish')
const net = await learnedBy('tagger.py', rows, join(folder, 'net.json'))
const packed = inside.packTagger(net)
writeFileSync(new URL('../../src/clauses/tagger.json', import.meta.url), `${JSON.stringify(packed, null, 2)}\n`)
const talk =
  'Hive two. Lid off, eight seams. Frame one, honey, about half capped. Other side, thirty. No eggs that I can see, but there she is, blue dot. I gave them two litres of syrup and I will look again on Friday.'
const utterances = utterancesIn(talk).map(({ words }) => {
  const { said, borders } = inside.spokenIn(inside.clausesOf(words, inside.readAmount), words)
  return [said, borders]
})
await writeReference(
  'tagger_reference.py',
  inside.unpackTagger(packed),
  { utterances },
  join(folder, 'shipped.json'),
  new URL('../../fixtures/nets/tagger.json', import.meta.url).pathname,
)
console.log(`${net.facts.length} facts, ${net.words.size} words`)
