// Learns the net of calls (src/hives/call-net.ts) from the told notes and writes src/hives/call-net.json; and, for `npm run hives` and
// `npm run calibrate`, one without each half of the notes. Which calls are right is told by the weights that ship.
// usage: node tests/tools/fit-calls.mjs

import { once } from 'node:events'
import { createWriteStream, mkdirSync, mkdtempSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { dataOf, HALVES, halfOf, inside, rowsOf, scorerOf, shipped } from './hives.mjs'
import { learnedBy } from './torch.mjs'

const folder = mkdtempSync(join(tmpdir(), 'calls-'))
const scorer = scorerOf(shipped())
const rows = join(folder, 'rows.jsonl')
const out = createWriteStream(rows)
for (const d of dataOf('told')) {
  if (d.form.includes('yard')) continue
  for (const row of rowsOf([d], scorer)) out.write(`${JSON.stringify({ ...row, half: halfOf(row.note) })}\n`)
}
out.end()
await once(out, 'finish')
const packed = (net) => `${JSON.stringify(inside.packCallNet(net), null, 2)}\n`
const nets = await Promise.all(
  ['none', 0, 1].map((half) => learnedBy('call_net.py', rows, join(folder, `net-${half}.json`), '--without', half)),
)
writeFileSync(new URL('../../src/hives/call-net.json', import.meta.url), packed(nets[0]))
mkdirSync(new URL('.', HALVES[0]), { recursive: true })
for (const [half, url] of HALVES.entries()) writeFileSync(url, packed(nets[half + 1]))
