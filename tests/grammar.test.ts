import { readdirSync, readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { CombscribeError } from '../src/errors.ts'
import { checkGrammar } from '../src/grammar/check.ts'
import { englishFiles } from '../src/grammar/english.ts'
import type { GrammarFiles } from '../src/grammar/grammar.ts'
import type { Line } from '../src/grammar/line.ts'
import { fieldInfo } from '../src/record/fields.ts'

/** The grammar is data: what the types cannot see of it is checked here, and every fault names its file and line. */
const folder = new URL('../grammar/en/', import.meta.url)
const onDisk = readdirSync(folder).filter((file) => file.endsWith('.json'))
const lines: [id: string, line: Line][] = Object.entries(englishFiles).flatMap(([file, content]) =>
  file === 'words.json'
    ? []
    : (content as Line[]).map((line, index): [string, Line] => [`grammar/en/${file}:${index + 2}`, line]),
)

/** The message of a grammar that does not load. */
function faultOf(files: GrammarFiles, strict = false): string {
  try {
    checkGrammar(files, { strict })
  } catch (error) {
    expect(error).toBeInstanceOf(CombscribeError)
    return (error as CombscribeError).message
  }
  return ''
}

/** What a file of the program says between two marks: the settings and acts are cases of a switch. */
const source = (file: string): string => readFileSync(new URL(`../src/${file}`, import.meta.url), 'utf8')
const casesOf = (file: string): Set<string> =>
  new Set([...source(file).matchAll(/case '([\w]+)':/g)].map((match) => match[1]!))

describe('the English grammar', () => {
  test('loads', () => expect(faultOf(englishFiles)).toBe(''))

  // common.json is a list of everyday words, one sentence of them a line; the others of these say how the trade talks and sounds.
  const lists = ['common.json', 'heard.json', 'sounds.json', 'usage.json']
  test('is every file of grammar/en, and no file is forgotten', () => {
    expect([...Object.keys(englishFiles), ...lists].sort()).toEqual([...onDisk].sort())
  })

  test.each(onDisk)('%s has one entry a line, so that line numbers are true', (file) => {
    const rows = readFileSync(new URL(file, folder), 'utf8').trimEnd().split('\n')
    const content: unknown = JSON.parse(rows.join('\n'))
    if (!Array.isArray(content)) return
    expect([rows[0], rows[rows.length - 1]]).toEqual(['[', ']'])
    content.forEach((entry, index) => {
      expect(JSON.parse(rows[index + 1]!.trim().replace(/,$/, '')), `${file}:${index + 2}`).toEqual(entry)
    })
  })

  test('says nothing twice', () => expect(faultOf(englishFiles, true)).toBe(''))

  test('gives only fields that there are', () => {
    const unknown = lines.flatMap(([id, line]) => {
      const fields = [line.field, ...(line.gives ?? []).map((give) => give.field)]
      return fields.flatMap((field) => (field === undefined || known(field) ? [] : [`${id} ${field}`]))
    })
    expect(unknown).toEqual([])
  })

  test('gives only values that the field can take', () => {
    const unfit = lines.flatMap(([id, line]) => {
      const own = line.field === undefined ? [] : [{ field: line.field, value: line.value ?? 'yes', deny: line.deny }]
      return [...own, ...(line.gives ?? [])].flatMap(({ field, value, deny }) =>
        [value, deny].flatMap((one) =>
          one === undefined || one === null || fits(field, one) ? [] : [`${id} ${field}: ${one}`],
        ),
      )
    })
    expect(unfit).toEqual([])
  })

  test('asks only for acts that there are', () => {
    const acts = casesOf('record/acts.ts')
    expect(acts.size).toBeGreaterThan(15)
    expect(lines.flatMap(([id, { act }]) => (act === undefined || acts.has(act) ? [] : [`${id} ${act}`]))).toEqual([])
  })

  test('names only settings that there are', () => {
    const settings = casesOf('record/setting.ts')
    expect(settings.size).toBeGreaterThan(15)
    const prefixes = [...source('record/setting.ts').matchAll(/startsWith\('(\w+:)'\)/g)].map((match) => match[1]!)
    const unknown = lines.flatMap(([id, { when = [], never = [] }]) =>
      [...when, ...never]
        .flatMap((setting) => setting.split('+'))
        .filter((part) => !settings.has(part) && !prefixes.some((prefix) => part.startsWith(prefix)))
        .map((part) => `${id} ${part}`),
    )
    expect(unknown).toEqual([])
  })

  test('speaks only of topics that something brings about', () => {
    const pests = lines.flatMap(([, { is }]) => (is?.startsWith('pest:') ? is.slice(5) : []))
    const said = lines.flatMap(([, { topic }]) => topic ?? [])
    const topics = new Set([...NEVER_BROUGHT_ABOUT, 'pest', ...said])
    for (const topic of said)
      if (topic.includes('$pest')) for (const pest of pests) topics.add(topic.replace('$pest', pest))
    for (const match of source('record/acts.ts').matchAll(/topic = '(\w+)'/g)) topics.add(match[1]!)
    const settings = lines.flatMap(([id, { when = [], never = [] }]) =>
      [...when, ...never].flatMap((setting) => setting.split('+')).map((part) => [id, part] as const),
    )
    const idle = settings.filter(([, part]) => /^topic:/.test(part) && !topics.has(part.slice(6)))
    expect(idle.map(([id, part]) => `${id} ${part}`)).toEqual([])
  })
})

/** To be mended: lines that wait for these can never mean anything. No new ones. */
const NEVER_BROUGHT_ABOUT = ['frames']

const known = (field: string): boolean => fieldInfo(field.replace(/\$\w+/, 'varroa')) !== undefined

function fits(field: string, value: string | number): boolean {
  const info = fieldInfo(field.replace(/\$\w+/, 'varroa'))
  if (!info || (typeof value === 'string' && value.includes('$'))) return true
  if (info.type === 'yesNo') return value === 'yes' || value === 'no'
  if (info.type === 'number') return typeof value === 'number'
  if (info.type === 'word' && info.words) return info.words.includes(String(value))
  return true
}

describe('a broken line is named by file and line', () => {
  const broken: [string, GrammarFiles, string][] = [
    [
      'a group left open',
      { 'queen.json': [{ say: 'queen', topic: 'queen' }, { say: 'queen (seen / spotted' }] },
      'queen:3',
    ],
    ['a bar outside a group', { 'queen.json': [{ say: 'queen / king' }] }, 'queen:2'],
    ['a word list that is none', { 'queen.json': [{ say: '@nothing queen' }] }, '@nothing'],
    ['a key that is none', { 'brood.json': [{ say: 'brood', fieldd: 'x' }] }, 'brood.json:2'],
    ['nothing said', { 'brood.json': [{ say: 'eggs' }, { say: 'brood' }, { field: 'x' }] }, 'brood.json:4'],
    ['a weight over one', { 'brood.json': [{ say: 'brood', weight: 2 }] }, 'brood.json:2 weight'],
    ['a start with anything', { 'brood.json': [{ say: '~ brood' }] }, 'brood:2'],
    ['a broken exception', { 'brood.json': [{ say: 'brood', unless: ['(no brood'] }] }, 'brood:2'],
  ]
  test.each(broken)('%s', (_, files, place) => {
    expect(faultOf(files)).toContain(place)
  })

  test('all faults come in one go', () => {
    const message = faultOf({ 'a.json': [{ say: '(x' }, { say: 'y)' }], 'b.json': [{ say: 1 }] })
    for (const place of ['a:2', 'a:3', 'b.json:2']) expect(message).toContain(place)
  })

  test('strict loading finds a line said twice', () => {
    const files = {
      'brood.json': [
        { say: 'eggs', field: 'eggs.present' },
        { say: 'eggs', field: 'eggs.present' },
      ],
    }
    expect(faultOf(files)).toBe('')
    expect(faultOf(files, true)).toContain('brood:3 says "eggs" again (already in brood:2)')
  })
})
