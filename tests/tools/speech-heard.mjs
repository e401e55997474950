// Real speech: 20 notes spoken by four synthetic voices (flite) and written down by a real recogniser (pocketsphinx, its
// stock model). What it wrote is kept in fixtures/speech/, so that the scores can be had again in seconds.
// usage: node tests/tools/speech-heard.mjs [--anew]       needs the Debian packages flite, pocketsphinx-en-us, pocketsphinx
import { spawnSync } from 'node:child_process'
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { parseArgs } from 'node:util'
import { spoken, spokenNotes } from './spoken-notes.mjs'

const root = new URL('../../', import.meta.url)
const { values: asked } = parseArgs({ options: { anew: { type: 'boolean' } } })
const folder = mkdtempSync(join(tmpdir(), 'combscribe-speech-'))
try {
  for (const { note, voice, text, heard } of spokenNotes(root)) {
    if (existsSync(heard) && !asked.anew) continue
    const words = join(folder, 'said.txt')
    const audio = join(folder, 'said.wav')
    writeFileSync(words, spoken(text))
    run('flite', ['-voice', voice, '-f', words, '-o', audio])
    writeFileSync(heard, run('pocketsphinx_continuous', ['-infile', audio, '-time', 'yes', '-logfn', '/dev/null']))
    console.log(`${note} ${voice}: ${readFileSync(heard, 'utf8').split('\n').length} lines`)
  }
} finally {
  rmSync(folder, { recursive: true, force: true })
}

function run(program, args) {
  const { status, stdout, stderr, error } = spawnSync(program, args, { encoding: 'utf8', maxBuffer: 1e8 })
  if (error || status !== 0) throw new Error(`${program} failed: ${error?.message ?? stderr}`)
  return stdout
}
