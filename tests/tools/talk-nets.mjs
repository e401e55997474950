// What nets over the whole of some talk (src/language/talk-net.ts) have in common when they are learned.
import { mkdtempSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { load } from './load.mjs'
import { learnedBy, writeReference } from './torch.mjs'

const root = new URL('../../', import.meta.url)
const { packTalkNet, talkToken, unpackTalkNet } = await load('src/language/talk-net.ts')

export { talkToken }

const inFolder = (file) => join(mkdtempSync(join(tmpdir(), 'talk-')), file)

/** Learns a net from rows by a script; packed. */
export async function learnTalkNet(script, rows) {
  const data = inFolder('rows.jsonl')
  writeFileSync(data, rows.map((row) => `${JSON.stringify(row)}\n`).join(''))
  return packTalkNet(await learnedBy(script, data, inFolder('net.json')))
}

/** Writes a net to src/language, and what PyTorch makes of some talk with it to fixtures/nets. */
export async function shipTalkNet(name, packed, talk) {
  writeFileSync(new URL(`src/language/${name}.json`, root), `${JSON.stringify(packed, null, 2)}\n`)
  await writeReference(
    'talk_reference.py',
    unpackTalkNet(packed),
    { texts: talk.map((text) => text.split(' ').map(talkToken)) },
    inFolder('shipped.json'),
    new URL(`fixtures/nets/${name}.json`, root).pathname,
  )
}
