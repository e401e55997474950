// Writes generated notes into a folder: node tests/generate/write.mjs FOLDER [--notes 10000] [--seed WORD] [--labels]
import { parseArgs } from 'node:util'
import { load } from '../tools/load.mjs'

const { values: asked, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    notes: { type: 'string', default: '10000' },
    seed: { type: 'string', default: 'combscribe' },
    labels: { type: 'boolean', default: false },
  },
})
const [folder] = positionals
if (folder === undefined) {
  console.error('write: no folder was named.')
  process.exit(2)
}
const { writeNotes } = await load('tests/generate/write.ts')
writeNotes(folder, Number(asked.notes), { seed: asked.seed, labels: asked.labels })
