// Learns which words name a hive that is called (src/language/name-net.ts) from the told notes, and writes src/language/name-net.json.
// usage: node tests/tools/fit-names.mjs
import { mkdtempSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { load } from './load.mjs'
import { learnNames } from './names.mjs'
import { writeReference } from './torch.mjs'

const root = new URL('../../', import.meta.url)
const { talkToken, unpackTalkNet } = await load('src/language/talk-net.ts')
const folder = mkdtempSync(join(tmpdir(), 'names-'))
const packed = await learnNames(folder)
writeFileSync(new URL('src/language/name-net.json', root), `${JSON.stringify(packed, null, 2)}\n`)
const talk = [
  'right then green door eight seams queen seen and eggs close her up next is charlie two ten frames of bees and no cells',
  'hive two lid off eight seams frame one honey and two frames of brood on to three five seams no eggs that i can see',
  'queen seen',
]
await writeReference(
  'talk_reference.py',
  unpackTalkNet(packed),
  { texts: talk.map((text) => text.split(' ').map(talkToken)) },
  join(folder, 'shipped.json'),
  new URL('fixtures/nets/name-net.json', root).pathname,
)
