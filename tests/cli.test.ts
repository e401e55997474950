import { spawn } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { Ajv2020 } from 'ajv/dist/2020.js'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { cli, combscribe } from './command.ts'

const note = 'fixtures/notes/2026-09-06-paddock.txt'
let folder: string

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'combscribe-cli-'))
})
afterAll(() => rmSync(folder, { recursive: true, force: true }))

function file(name: string, content: string | Uint8Array): string {
  const path = join(folder, name)
  writeFileSync(path, content)
  return path
}

const oneSentence = /^combscribe: [^\n]+\.\n$/

test('the day of a visit is taken from the name of its file, unless it is said or asked for', () => {
  const day = (name: string, ...more: string[]): string =>
    JSON.parse(
      combscribe(['read', file(name, 'Hive two is calm. Check again on Friday.'), '--as', 'record', ...more]).out,
    ).date
  expect(day('2026-05-04 two.txt')).toBe('2026-05-04')
  expect(day('20260504.txt', '--date', '2026-05-06')).toBe('2026-05-06')
  expect(day('two.txt')).toBeNull()
  const due = combscribe(['read', join(folder, '2026-05-04 two.txt'), '--as', 'readings']).out
  expect(due).toMatch(/"todo.inspect".*"2026-05-08"/)
})

describe('wrong use is answered by one sentence and exit code 2', () => {
  test.each([
    ['an unknown command', ['frobnicate'], /no command "frobnicate"/],
    ['a name that every object has', ['constructor'], /no command "constructor"/],
    ['no file', ['read'], /no file was named/],
    ['an unknown option', ['read', note, '--colour'], /unknown option '--colour'/],
    ['an option without its value', ['read', note, '--date'], /--date/],
    ['an unknown format', ['read', note, '--as', 'pdf'], /--as takes table, report, .*not "pdf"/],
    ['a day that is none', ['read', note, '--date', '2026-02-30'], /not "2026-02-30"/],
    ['standard input twice', ['read', '-', '-'], /named twice/],
    [
      'a yard file that is missing',
      ['read', note, '--yard', 'no/such/yard.json'],
      /no\/such\/yard\.json: no such file/,
    ],
    ['a file where none belongs', ['schema', note], /schema: takes no file/],
  ])('%s', (_, args, sentence) => {
    const { code, out, err } = combscribe(args)
    expect(err).toMatch(sentence)
    expect(err).toMatch(oneSentence)
    expect(out).toBe('')
    expect(code).toBe(2)
  })

  test('a faulty yard file is named with its line', () => {
    const yard = file('yard.json', '{\n "region": { "hemisphere": "up" }\n}')
    const { code, err } = combscribe(['read', note, '--yard', yard])
    expect(err).toContain(`${yard}:2: region.hemisphere`)
    expect(code).toBe(2)
  })
})

describe('an input that cannot be read is named with the reason, and the others are read', () => {
  const png = Uint8Array.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 0, 0, 0, 0x0d, 0x49, 0x48, 0x44, 0x52])
  test.each([
    ['missing.txt', null],
    ['empty.txt', ''],
    ['silence.srt', '1\n00:00:00,000 --> 00:00:09,000\n\n'],
    ['picture.txt', png],
    ['zeros.txt', new Uint8Array(4000)],
    ['shape.json', '{"bees": [1, 2, 3]}'],
    ['broken.srt', '1\n00:00:xx --> 00:99\nhive two\n\n2\n00:00:01,000 --> 00:00:02,000\neggs\n'],
    ['truncated.json', '{"text": "hive two eggs", "segments": [{"id": 0, "te'],
    ['one-line.txt', 'hive two six frames of brood '.repeat(1_800_000)],
  ])('%s', (name, content) => {
    const path = content === null ? join(folder, name) : file(name, content)
    const { code, out, err } = combscribe(['read', path, note, '--as', 'readings'])
    expect(err).toMatch(oneSentence)
    expect(err).toContain(path)
    expect(out).toContain('"note":"2026-09-06-paddock"')
    expect(code).toBe(1)
  })

  test('a folder', () => {
    const { code, err } = combscribe(['read', folder])
    expect(err).toMatch(/: a folder, not a note; /)
    expect(code).toBe(1)
  })
})

describe('read', () => {
  test('takes standard input and prints the same as for the file', () => {
    const form = ['--as', 'readings', '--date', '2026-09-06']
    const fromFile = combscribe(['read', note, ...form]).out
    const fromInput = combscribe(['read', '-', ...form], { input: readFileSync(note) }).out
    expect(fromInput.replaceAll('"note":"stdin"', '"note":"2026-09-06-paddock"')).toBe(fromFile)
  })

  test('prints every documented form', () => {
    for (const as of ['table', 'report', 'account', 'record', 'readings']) {
      const { code, out, err } = combscribe(['read', note, '--as', as, '--yard', 'fixtures/notes/yard.json'])
      expect(err).toBe('')
      expect(out.length).toBeGreaterThan(200)
      expect(code).toBe(0)
    }
  })

  test('gives one record as an object, several as a list', () => {
    expect(JSON.parse(combscribe(['read', note, '--as', 'record']).out)).toMatchObject({ note: '2026-09-06-paddock' })
    expect(JSON.parse(combscribe(['read', note, note, '--as', 'record']).out)).toHaveLength(2)
  })

  test('quotes are cut from the note', () => {
    const text = readFileSync(note, 'utf8')
    for (const line of combscribe(['read', note, '--as', 'readings']).out.trimEnd().split('\n')) {
      const { quote, start, end } = JSON.parse(line)
      expect(text.slice(start, end)).toBe(quote)
    }
  })

  test('explains a field', () => {
    const { code, out } = combscribe(['read', note, '--why', 'queen.seen'])
    expect(out).toContain('queen.seen = ')
    expect(out).toContain('words')
    expect(code).toBe(0)
  })

  test('colours only when wanted, and says the same without', () => {
    const marker = String.fromCharCode(27)
    const painted = combscribe(['read', note], { env: { FORCE_COLOR: '1', NO_COLOR: '' } }).out
    const plain = combscribe(['read', note], { env: { NO_COLOR: '' } }).out
    expect(painted).toContain(marker)
    expect(plain).not.toContain(marker)
    expect(painted.replace(new RegExp(`${marker}\\[[0-9;]*m`, 'g'), '')).toBe(plain)
    expect(combscribe(['read', note], { env: { FORCE_COLOR: '1' } }).out).toBe(plain)
  })

  test('ends quietly when nobody reads on', async () => {
    const child = spawn(process.execPath, [cli, 'read', ...new Array(40).fill(note), '--as', 'record'])
    let err = ''
    child.stderr.on('data', (part) => {
      err += part
    })
    child.stdout.once('data', () => child.stdout.destroy())
    const code = await new Promise((resolve) => child.on('close', resolve))
    expect(err).toBe('')
    expect(code).toBe(0)
  })
})

describe('judge', () => {
  const record = () => {
    const read = JSON.parse(combscribe(['read', note, '--as', 'record', '--date', '2026-09-06']).out)
    // The faults below are put into readings of the first hive.
    read.hives = read.hives.filter((hive: { readings: unknown[] }) => hive.readings.length > 1)
    return read
  }

  test('judges what read has written, one or many', () => {
    const saved = file('record.json', JSON.stringify(record()))
    const one = combscribe(['judge', saved, '--as', 'json', '--yard', 'fixtures/notes/yard.json'])
    expect(one.err).toBe('')
    expect(JSON.parse(one.out).findings.length).toBeGreaterThan(0)
    expect(JSON.parse(combscribe(['judge', saved, saved, '--as', 'json']).out)).toHaveLength(2)
    expect(combscribe(['judge', saved]).out).toMatch(/^hive 1$/m)
  })

  test.each([
    ['a value of a wrong kind', ['hives', 0, 'readings', 1, 'value'], {}, 'not a record (expected a word, a number or'],
    ['a confidence above 1', ['hives', 0, 'readings', 0, 'confidence'], 3, 'not a record (too big'],
    ['a date that is missing', ['date'], undefined, 'not a record (invalid input: expected string'],
  ])('%s is named by its JSON pointer', (_, path, value, sentence) => {
    const spoilt = record()
    const last = path.at(-1)!
    path.slice(0, -1).reduce((inside, key) => inside[key], spoilt)[last] = value
    const { code, err } = combscribe(['judge', file('spoilt.json', JSON.stringify(spoilt))])
    expect(err).toContain(`#/${path.join('/')}: ${sentence}`)
    expect(err).toMatch(oneSentence)
    expect(code).toBe(1)
  })

  test.each([
    ['broken JSON', '{\n"note": "a",\n}', ':3: not readable as JSON'],
    ['truncated JSON', '{\n"note": "a"', ':2: not readable as JSON'],
    ['an empty file', '', ': the file is empty'],
  ])('%s is named by its line', (_, text, sentence) => {
    const { code, err } = combscribe(['judge', file('broken.json', text)])
    expect(err).toContain(sentence)
    expect(code).toBe(1)
  })
})

describe('schema', () => {
  // Ajv is the reference validator of many JSON Schema users: the schema must mean the same to it as to us.
  const validate = () =>
    new Ajv2020({ strict: true, allowUnionTypes: true }).compile(JSON.parse(combscribe(['schema']).out))

  test('accepts what read writes', () => {
    const check = validate()
    for (const demo of [note, 'fixtures/notes/2026-10-11-paddock.srt']) {
      expect(check(JSON.parse(combscribe(['read', demo, '--as', 'record']).out)), JSON.stringify(check.errors)).toBe(
        true,
      )
    }
  })

  test('refuses a record with a wrong flag', () => {
    const record = JSON.parse(combscribe(['read', note, '--as', 'record']).out)
    record.hives.find((hive: { readings: unknown[] }) => hive.readings.length > 0).readings[0].flag = 'perhaps'
    expect(validate()(record)).toBe(false)
  })
})

describe('rules', () => {
  test('prints the rulebook for people and for programs', () => {
    const { code, out } = combscribe(['rules', '--as', 'json'])
    expect(JSON.parse(out)).toBeTypeOf('object')
    expect(code).toBe(0)
    expect(combscribe(['rules']).out.length).toBeGreaterThan(1000)
  })
})

describe('help', () => {
  test.each([
    [['--help'], 'combscribe read'],
    [['help', 'read'], '--why FIELD'],
    [['read', '--help'], '--why FIELD'],
    [['--version'], JSON.parse(readFileSync('package.json', 'utf8')).version],
  ])('%j', (args, words) => {
    const { code, out, err } = combscribe(args)
    expect(out).toContain(words)
    expect(err).toBe('')
    expect(code).toBe(0)
  })
})
