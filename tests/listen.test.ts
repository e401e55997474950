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
    expect(out).toMatch(/^hive 1, not said yet: .*queen cells/m)
    expect(out).toMatch(/^hive 1$/m)
  })

  test('partial results of a streaming recogniser are replaced by the final one', () => {
    const { out } = hold([
      '{"partial":"hive"}',
      '{"text":"hive two six frames of brood","final":true}',
      '{"text":"hive two six frames of brood and no eggs","final":false}',
    ])
    expect(out.split('\n')[0]).toMatch(/^hive 2: frames of brood 6/)
    expect(out.split('\n')[1]).toMatch(/^the visit is over/)
  })

  test('JSON whose words are not found is named, not swallowed', () => {
    const { out, err, code } = hold(['{"channel":{"alternatives":[{"transcript":"hive two"}]}}', 'hive three'])
    expect(code).toBe(1)
    expect(err).toMatch(/JSON without a "text"/)
    expect(err.trim().split('\n')).toHaveLength(1)
    expect(out).toMatch(/^hive 3$/m)
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
    expect(asked).toMatch(/^frames of brood 2/m)
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

  test('a revised result replaces what was heard, one that only gets its capitals is not answered again', () => {
    const turn = (transcript: string, formatted: boolean) =>
      JSON.stringify({ type: 'Turn', turn_order: 0, end_of_turn: true, turn_is_formatted: formatted, transcript })
    const { out } = hold([turn('hive two five frames of brood', false), turn('Hive two, nine frames of brood.', true)])
    expect(out).toMatch(/^hive 2: frames of brood 5/)
    expect(out.split('\n')[1]).toMatch(/^hive 2: frames of brood 9/)
    const again = hold([
      turn('hive two five frames of brood', false),
      turn('Hive two, five frames of brood.', true),
    ]).out
    expect(again.match(/frames of brood 5/g)).toHaveLength(1)
  })

  test('spoken edits', () => {
    const { out } = hold(['hive two', 'five frames of brood', 'undo the last one', 'eggs', 'ignore what I just said'])
    expect(out).toMatch(/^taken back: frames of brood 5/m)
    expect(out).toMatch(/^taken back: eggs yes/m)
  })

  test('ends with what is lacking of every hive, and once only', () => {
    const lines = ['hive one', 'calm bees', 'hive two', 'saw the queen']
    for (const { out } of [hold(lines), hold([...lines, "that's all for today"])]) {
      expect(out.match(/^the visit is over: 2 hives$/gm)).toHaveLength(1)
      const end = out.slice(out.indexOf('the visit is over'))
      expect(end).toMatch(/^hive 1, not said yet: .*eggs/m)
      expect(end).toMatch(/^hive 2, not said yet: /m)
    }
    expect(hold([]).out).toBe('the visit is over: nothing was said of a hive\n')
  })

  test('Ctrl-C ends the visit with its summary', async () => {
    const child = spawn(process.execPath, [cli, 'listen', '--date', '2026-06-10'])
    let out = ''
    const heard = new Promise<void>((resolve) =>
      child.stdout.on('data', (data) => {
        out += String(data)
        if (/^hive 3: temper/m.test(out)) resolve()
      }),
    )
    child.stdin.write('hive three, calm bees\n')
    await heard
    child.kill('SIGINT')
    const code = await new Promise((resolve) => child.on('exit', resolve))
    expect(out).toMatch(/^the visit is over: 1 hive$/m)
    expect(code).toBe(0)
  })

  describe('--to', () => {
    const folder = () => mkdtempSync(join(tmpdir(), 'listen-'))

    test('keeps what is said, to be read like any note', () => {
      const file = join(folder(), '2026-06-10 orchard.jsonl')
      const { out } = hold(['hive one', 'six frames of brood', "what's missing", 'no sorry, seven'], '--to', file)
      expect(out).toMatch(/frames of brood 7/)
      const read = combscribe(['read', file, '--as', 'readings'])
      expect(
        read.out
          .trim()
          .split('\n')
          .map((line) => JSON.parse(line)),
      ).toMatchObject([{ hive: '1', field: 'frames.brood', value: 7 }])
    })

    test('is on the disk before the next is spoken, though the power goes', async () => {
      const file = join(folder(), 'visit.jsonl')
      const child = spawn(process.execPath, [cli, 'listen', '--date', '2026-06-10', '--to', file])
      child.stdin.write('hive three, four frames of brood\n')
      await new Promise((resolve) => child.stdout.once('data', resolve))
      child.kill('SIGKILL')
      await new Promise((resolve) => child.on('exit', resolve))
      expect(combscribe(['read', file, '--as', 'readings']).out).toMatch(/"frames.brood","value":4/)
    })

    test('writes over no file', () => {
      const file = join(folder(), 'note.txt')
      writeFileSync(file, 'hive nine')
      const { err, out, code } = hold(['hive one'], '--to', file)
      expect(code).not.toBe(0)
      expect(out).toBe('')
      expect(err).toMatch(/note\.txt: there is such a file, and it is not written over; give another name\.\n$/)
      expect(readFileSync(file, 'utf8')).toBe('hive nine')
    })

    test('a folder that is not there is named', () => {
      const { err, code } = hold(['hive one'], '--to', join(folder(), 'none', 'visit.jsonl'))
      expect(code).not.toBe(0)
      expect(err.trim().split('\n')).toHaveLength(1)
    })
  })

  test('takes no file', () => {
    const { err, code } = hold([], 'note.txt')
    expect(code).toBe(2)
    expect(err).toMatch(/takes no file/)
  })
})
