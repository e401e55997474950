import { spawn } from 'node:child_process'
import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { cli, combscribe, has, mayBeMissing } from './command.ts'

/** Speaks lines to the built command and gives its answers, one entry an utterance, as they come. */
const hold = (lines: readonly string[], ...args: string[]) =>
  combscribe(['listen', '--date', '2026-06-10', ...args], { input: `${lines.join('\n')}\n` })

describe('a visit heard line by line', () => {
  test('says where we are and what was understood', () => {
    const { out, code } = hold(['hive two', 'five frames of brood', 'frame four, other side is half capped honey'])
    expect(code).toBe(0)
    expect(out.split('\n')[0]).toBe('hive 2')
    expect(out).toMatch(/^hive 2: frames of brood 5/m)
    expect(out).toMatch(/^hive 2, frame 4, side B/m)
  })

  test('a value put right is answered with the new one', () => {
    const { out } = hold(['hive two, five frames of brood', 'no sorry, six'])
    expect(out).toMatch(/frames of brood 6/)
    expect(out).not.toMatch(/taken back: frames of brood 5/)
  })

  test('an alarm is given at once, and once', () => {
    const { out } = hold(['hive one', 'sunken cappings, ropy larvae and a foul smell', 'calm bees'])
    expect(out.match(/^ATTENTION, hive 1/gm)).toHaveLength(1)
    expect(out).toMatch(/inspector/)
  })

  test('answers questions about the hive in hand', () => {
    const { out } = hold([
      'hive one, saw the queen',
      'what did I say about the queen',
      "what's missing",
      'where are we',
    ])
    expect(out).toMatch(/^queen seen yes/m)
    expect(out).toMatch(/queen cells/)
    expect(out.trimEnd().split('\n').at(-1)).toBe('hive 1')
  })

  test('partial results of a streaming recogniser are replaced by the final one', () => {
    const { out } = hold([
      '{"partial":"hive"}',
      '{"text":"hive two six frames of brood","final":true}',
      '{"text":"x","final":false}',
    ])
    expect(out.trimEnd().split('\n')).toHaveLength(1)
    expect(out).toMatch(/^hive 2: frames of brood 6/)
  })

  test('JSON whose words are not found is named, not swallowed', () => {
    const { err, code } = hold(['{"channel":{"alternatives":[{"transcript":"hive two"}]}}'])
    expect(code).toBe(0)
    expect(err).toMatch(/JSON without a "text"/)
  })

  test('what is missing asks for nothing that only the yard file can say', () => {
    const { out } = hold(['hive one, saw the queen', "what's missing"])
    expect(out).not.toMatch(/yard file/)
  })

  test('is answered before the next is spoken', async () => {
    const child = spawn(process.execPath, [cli, 'listen', '--date', '2026-06-10'])
    const first = new Promise<string>((resolve) => child.stdout.once('data', (data) => resolve(String(data))))
    child.stdin.write('hive three, four frames of brood\n')
    expect(await first).toMatch(/^hive 3: frames of brood 4/)
    child.stdin.end()
    await new Promise((resolve) => child.on('exit', resolve))
  })

  test('hearing a note line by line ends with what reading it whole gives', () => {
    const file = join(mkdtempSync(join(tmpdir(), 'listen-')), 'note.txt')
    const lines = ['hive one', 'six frames of brood and eggs', 'saw the queen', 'hive two', 'two frames of brood']
    writeFileSync(file, `${lines.join('\n')}\n`)
    const whole = combscribe(['read', file, '--date', '2026-06-10', '--as', 'readings'])
    const asked = hold([...lines, 'read it back']).out
    const two = whole.out
      .trim()
      .split('\n')
      .map((line) => JSON.parse(line))
      .filter((r) => r.hive === '2')
    expect(two.length).toBeGreaterThan(0)
    expect(asked.trimEnd().split('\n').at(-1)).toMatch(/^frames of brood 2/)
  })

  test('a program that cannot speak is named and nothing is lost', () => {
    const { out, err, code } = hold(['hive one, five frames of brood'], '--say', 'no-such-speaker')
    expect(code).toBe(0)
    expect(out).toMatch(/frames of brood 5/)
    expect(err).toMatch(/"no-such-speaker" could not speak/)
    expect(err.trim().split('\n')).toHaveLength(1)
  })

  test.skipIf(!has('espeak-ng') && mayBeMissing)('answers are spoken', () => {
    const wav = join(mkdtempSync(join(tmpdir(), 'listen-')), 'answer.wav')
    const { err } = hold(['hive one, five frames of brood'], '--say', `espeak-ng -w ${wav}`)
    expect(err).toBe('')
    expect(readFileSync(wav).length).toBeGreaterThan(10_000)
  })

  test('takes no file', () => {
    const { err, code } = hold([], 'note.txt')
    expect(code).toBe(2)
    expect(err).toMatch(/takes no file/)
  })
})
