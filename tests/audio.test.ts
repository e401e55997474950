import { spawnSync } from 'node:child_process'
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, utimesSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { combscribe, has, mayBeMissing } from './command.ts'

/** Real speech: flite speaks, pocketsphinx of Debian listens, the shipped command reads. */
const canSpeak = has('flite') && has('pocketsphinx_continuous') && existsSync('/usr/share/pocketsphinx/model/en-us')
const speech = describe.skipIf(!canSpeak && mayBeMissing)
let folder: string

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'combscribe-audio-'))
})
afterAll(() => rmSync(folder, { recursive: true, force: true }))

const read = (...args: string[]) => combscribe(['read', ...args])
function yardWith(name: string, recogniser: string[]): string {
  const path = join(folder, name)
  writeFileSync(path, JSON.stringify({ recogniser }))
  return path
}
function recording(name: string, text?: string): string {
  const path = join(folder, name)
  if (text === undefined) writeFileSync(path, 'RIFF')
  else expect(spawnSync('flite', ['-voice', 'slt', '-t', text, '-o', path]).status).toBe(0)
  return path
}
const sentence = /^combscribe: [^\n]+\.\n$/

speech('a recording', () => {
  test('is heard by the recogniser of the yard file; its transcript is kept and used again', () => {
    const audio = recording('note.wav', 'Six frames of honey. No queen cells.')
    const log = join(folder, 'log')
    const yard = yardWith('yard.json', ['pocketsphinx_continuous', '-infile', '{audio}', '-logfn', log])
    const first = read(audio, '--yard', yard, '--as', 'readings')
    expect(first.code).toBe(0)
    const readings = first.out
      .trim()
      .split('\n')
      .map((line) => JSON.parse(line))
    expect(readings).toContainEqual(expect.objectContaining({ field: 'frames.honey', value: 6 }))
    expect(readFileSync(`${audio}.transcript`, 'utf8')).toContain('six frames of honey')
    // without a recogniser now: the transcript beside it is enough
    rmSync(log)
    expect(read(audio, '--as', 'readings').out).toBe(first.out)
    expect(existsSync(log)).toBe(false)
  })

  test('that changed after its transcript is heard anew', () => {
    const audio = recording('changed.wav', 'Six frames of honey.')
    const yard = yardWith('again.json', ['pocketsphinx_continuous', '-infile', '{audio}', '-logfn', '/dev/null'])
    writeFileSync(`${audio}.transcript`, 'nine frames of honey')
    utimesSync(`${audio}.transcript`, new Date(0), new Date(0))
    expect(read(audio, '--yard', yard, '--as', 'readings').out).toContain('"value":6')
  })
})

describe('what goes wrong is one sentence, and nothing half-written stays', () => {
  test('no recogniser', () => {
    const { code, out, err } = read(recording('silent.wav'))
    expect(err).toMatch(sentence)
    expect(err).toContain('no speech recogniser is configured')
    expect(out).toBe('')
    expect(code).toBe(1)
  })
  test.each([
    ['is not there', ['no-such-recogniser', '{audio}'], /"no-such-recogniser" does not start/],
    ['fails', ['node', '-e', 'console.error("no model"); process.exit(3)', '{audio}'], /failed with 3 \(no model\)/],
    ['hears nothing', ['node', '-e', '0', '{audio}'], /heard nothing/],
  ])('a recogniser that %s', (what, recogniser, sentenceOf) => {
    const audio = recording(`${what.replaceAll(' ', '-')}.wav`)
    const { code, err } = read(audio, '--yard', yardWith('faulty.json', recogniser))
    expect(err).toMatch(sentence)
    expect(err).toMatch(sentenceOf)
    expect(code).toBe(1)
    expect(
      readdirSync(folder).filter((name) => name.includes('.transcript') && audio.includes(name.split('.wav')[0]!)),
    ).toEqual([])
  })
  test('a recording that is missing', () => {
    expect(read(join(folder, 'none.wav')).err).toMatch(/none\.wav: no such file/)
  })
})
