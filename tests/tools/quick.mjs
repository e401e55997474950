// A quick look at the labelled notes that may be looked at: node tests/tools/quick.mjs [--misses] [--note N] [--field RE] [--notes DIR,DIR] [--bare]
import { execFileSync } from 'node:child_process'
import { copyFileSync, existsSync, mkdtempSync, readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { load } from './load.mjs'

const args = process.argv.slice(2)
const opt = (n) => {
  const i = args.indexOf(n)
  return i < 0 ? undefined : args[i + 1]
}
const dirs = (opt('--notes') ?? 'fixtures/corpus/tuned,fixtures/own/a,fixtures/own/b').split(',')
const { readNote, flatten, openTranscript } = await load('tests/tools/inside.ts')
const work = mkdtempSync(join(tmpdir(), 'quick-'))
let lines = ''
let n = 0
const t0 = performance.now()
for (const dir of dirs)
  for (const f of readdirSync(dir).filter((x) => x.endsWith('.gold.json'))) {
    const note = f.replace('.gold.json', '')
    if (opt('--note') && note !== opt('--note')) continue
    if (Number(note.split('-')[1]) % 3 === 0) continue
    const gold = JSON.parse(readFileSync(join(dir, f), 'utf8'))
    copyFileSync(join(dir, f), join(work, f))
    const ext = ['.txt', '.srt', '.vtt', '.json'].find((x) => existsSync(join(dir, note + x)))
    let input = readFileSync(join(dir, note + ext))
    if (args.includes('--bare')) {
      const t = openTranscript(input, note)
      input = t.segments
        .map((s) => t.text.slice(s.start, s.end))
        .join(' ')
        .toLowerCase()
        .replace(/[.,!?;:…—–"“”()[\]]+(?=\s|$)|(?<=\s|^)[-—–"“”([]+|\.\.\./g, ' ')
        .replace(/\s+/g, ' ')
    }
    try {
      for (const r of flatten(readNote(input, { name: note, date: gold.date }))) lines += `${JSON.stringify(r)}\n`
    } catch (e) {
      console.error(note, e)
    }
    n++
  }
const t1 = performance.now()
writeFileSync(join(work, 'readings.jsonl'), lines)
// another scorer of the same form may be named in SCORER
const score = process.env.SCORER ?? 'tests/tools/score-readings.mjs'
const out = execFileSync(
  'node',
  [
    score,
    '--gold',
    work,
    '--readings',
    join(work, 'readings.jsonl'),
    ...(args.includes('--misses') ? ['--misses'] : []),
    ...(args.includes('--json') ? ['--json'] : []),
  ],
  { encoding: 'utf8', maxBuffer: 1e8 },
)
const re = opt('--field') ? new RegExp(opt('--field')) : null
console.log(
  out
    .split('\n')
    .filter((l) => !re || !/^(MISSED|WRONG)/.test(l) || re.test(l))
    .join('\n'),
)
console.log(`${n} notes, ${Math.round(t1 - t0)} ms`)
