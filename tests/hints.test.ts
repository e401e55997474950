import { spawnSync } from 'node:child_process'
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { XMLParser, XMLValidator } from 'fast-xml-parser'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
// @ts-expect-error tools are plain modules
import { pairModel } from './bench/hearing.mjs'
import { combscribe, has, mayBeMissing } from './command.ts'
// @ts-expect-error tools are plain modules
import { cmuWord } from './tools/hearing.mjs'
// @ts-expect-error tools are plain modules
import { wordErrors } from './tools/noise.mjs'

/** The command as it is shipped; the grammar as the recogniser of Debian loads it. */
const yard = 'fixtures/notes/yard.json'
const model = '/usr/share/pocketsphinx/model/en-us'
const dictionary = `${model}/cmudict-en-us.dict`
const canSpeak = has('flite') && has('pocketsphinx_continuous') && existsSync(dictionary)
let folder: string

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'combscribe-hints-'))
})
afterAll(() => rmSync(folder, { recursive: true, force: true }))

const hints = (...args: string[]) => combscribe(['hints', ...args])

describe('lists stay within what engines document', () => {
  test.each(['phrases', 'words'])('%s', (form) => {
    const { code, out } = hints('--as', form, '--yard', yard)
    const lines = out.trimEnd().split('\n')
    expect(code).toBe(0)
    expect(lines.length).toBeGreaterThan(100)
    // Twilio, error 13330: up to 500 entries, each of 100 characters or fewer
    expect(lines.length).toBeLessThanOrEqual(500)
    expect(Math.max(...lines.map((line) => line.length))).toBeLessThanOrEqual(100)
    // AssemblyAI, keyterms prompting: at most 6 words a phrase
    expect(Math.max(...lines.map((line) => line.split(' ').length))).toBeLessThanOrEqual(6)
    expect(new Set(lines.map((line) => line.toLowerCase())).size).toBe(lines.length)
    for (const word of ['Olive', 'varroa', 'queenless', 'supersedure']) expect(lines).toContain(word)
  })

  test('the prompt is short and ends with the names of the yard', () => {
    const { out } = hints('--as', 'prompt', '--yard', yard)
    expect(out.length).toBeLessThanOrEqual(601)
    expect(out).toMatch(/Names: .*Olive.*Quarry Paddock.*\.\n$/)
    expect(out).toContain('varroa')
  })

  test('a yard of five hundred names leaves room for the trade', () => {
    const big = join(folder, 'yard.json')
    writeFileSync(big, JSON.stringify({ apiaries: Array.from({ length: 500 }, (_, i) => ({ name: `Apiary ${i}` })) }))
    const { out } = hints('--as', 'prompt', '--yard', big)
    expect(out.length).toBeLessThanOrEqual(601)
    expect(out).toContain('brood')
    expect(hints('--as', 'phrases', '--yard', big).out.trimEnd().split('\n')).toHaveLength(500)
  })
})

describe('grammars', () => {
  test('SRGS is well-formed, its root and all references name rules', () => {
    const own = join(folder, 'own.json')
    writeFileSync(own, JSON.stringify({ hives: [{ label: 'tom & "jerry" <1>' }] }))
    const { out } = hints('--as', 'srgs', '--yard', own)
    expect(XMLValidator.validate(out)).toBe(true)
    const grammar = new XMLParser({ ignoreAttributes: false }).parse(out).grammar
    // W3C SRGS 1.0, section 4: version, namespace, language and root of the grammar element
    expect(grammar['@_version']).toBe('1.0')
    expect(grammar['@_xmlns']).toBe('http://www.w3.org/2001/06/grammar')
    expect(grammar['@_xml:lang']).toBe('en')
    const ids = grammar.rule.map((rule: Record<string, string>) => rule['@_id'])
    expect(ids).toContain(grammar['@_root'])
    for (const [, id] of out.matchAll(/uri="#(\w+)"/g)) expect(ids).toContain(id)
    expect(out).toContain('tom jerry 1')
  })

  test('words that a dictionary lacks are left out and named', () => {
    const small = join(folder, 'small.dict')
    writeFileSync(small, 'four F AO R\nframes F R EY M Z\nof AH V\nof(2) AO V\nbrood B R UW D\nhive HH AY V\n')
    const { out, err, code } = hints('--as', 'jsgf', '--dictionary', small)
    expect(code).toBe(0)
    expect(out).toContain('<number> = four;')
    expect(out).not.toContain('varroa')
    expect(err).toMatch(/^combscribe: left out, .*varroa.*\.\n$/)
  })

  test.skipIf(!canSpeak && mayBeMissing)('pocketsphinx loads the JSGF and hears a note with it', () => {
    const { out } = hints('--as', 'jsgf', '--dictionary', dictionary, '--yard', yard)
    const grammar = join(folder, 'hive.jsgf')
    const audio = join(folder, 'note.wav')
    writeFileSync(grammar, out)
    expect(spawnSync('flite', ['-voice', 'slt', '-t', 'hive two. four frames of brood.', '-o', audio]).status).toBe(0)
    const heard = spawnSync(
      'pocketsphinx_continuous',
      [
        '-infile',
        audio,
        '-hmm',
        `${model}/en-us`,
        '-dict',
        dictionary,
        '-jsgf',
        grammar,
        '-logfn',
        join(folder, 'log'),
      ],
      { encoding: 'utf8' },
    )
    expect(readFileSync(join(folder, 'log'), 'utf8')).not.toMatch(/^(ERROR|FATAL)/m)
    expect(heard.status).toBe(0)
    expect(heard.stdout).toContain('frames of brood')
    const words = new Set(out.split(/[^\w']+/))
    expect(
      heard.stdout
        .trim()
        .split(/\s+/)
        .filter((word) => !words.has(word)),
    ).toEqual([])
  })
})

test.skipIf(!canSpeak && mayBeMissing)(
  'pocketsphinx loads a model of word pairs of the trade and hears a note better with it',
  () => {
    const known = readFileSync(dictionary, 'utf8')
    const words = new Set(known.split('\n').map((line) => line.split(' ')[0]!.replace(/\(\d+\)$/, '')))
    const usage = JSON.parse(readFileSync(new URL('../grammar/en/usage.json', import.meta.url), 'utf8'))
    const { model: pairs, added } = pairModel(usage, words)
    expect(added).toContain('varroa')
    const [lm, dict, audio, log] = ['pairs.arpa', 'words.dict', 'pairs.wav', 'pairs.log'].map((name) =>
      join(folder, name),
    )
    writeFileSync(lm!, pairs)
    writeFileSync(dict!, known + added.map((word: string) => `${word} ${cmuWord(word)}\n`).join(''))
    const said = 'hive two. four frames of brood. queen seen.'
    expect(spawnSync('flite', ['-voice', 'slt', '-t', said, '-o', audio!]).status).toBe(0)
    const errors = (...options: string[]): number => {
      const args = ['-infile', audio!, '-hmm', `${model}/en-us`, ...options, '-logfn', log!]
      const heard = spawnSync('pocketsphinx_continuous', args, { encoding: 'utf8' })
      expect(heard.status).toBe(0)
      expect(readFileSync(log!, 'utf8')).not.toMatch(/^(ERROR|FATAL)/m)
      return wordErrors(said, heard.stdout).errors
    }
    expect(errors('-lm', lm!, '-dict', dict!)).toBeLessThan(errors())
  },
)

test('wrong use is one sentence', () => {
  expect(hints('--as', 'pdf')).toMatchObject({ code: 2, out: '' })
  expect(hints('--as', 'words', '--dictionary', 'x').err).toMatch(/^combscribe: .*--dictionary goes with.*\n$/)
})
