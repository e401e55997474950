// Reads one phrase and prints its readings: node tests/tools/say.mjs "six frames of brood" [--date 2026-06-10] [--why]
import { load } from './load.mjs'

const args = process.argv.slice(2)
const why = args.includes('--why')
const at = args.indexOf('--date')
const date = at >= 0 ? args[at + 1] : '2026-06-10'
const text = args.filter((a, i) => !a.startsWith('--') && i !== at + 1 - (at < 0 ? -args.length : 0)).join(' ')
const lib = await load('tests/tools/inside.ts')
const record = lib.readNote(text, { name: 'say', date })
for (const r of lib.flatten(record))
  console.log(
    [r.hive, r.box, r.frame, r.side]
      .map((x) => x ?? '')
      .join('|')
      .padEnd(16),
    r.field.padEnd(26),
    JSON.stringify(r.value).padEnd(12),
    r.flag,
    r.confidence,
    r.how,
    `«${r.quote}»`,
  )
if (why) for (const line of lib.trace(text, date)) console.log(line)
