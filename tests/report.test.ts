import stringWidth from 'string-width'
import { describe, expect, test } from 'vitest'
import { account } from '../src/report/account.ts'
import { readings, recordJson } from '../src/report/json.ts'
import { table } from '../src/report/table.ts'
import { why } from '../src/report/why.ts'
import { hive, reading, record } from './records.ts'

const plain = { colour: false, width: 80 }
const coloured = { colour: true, width: 80 }
const escapes = new RegExp(`${String.fromCharCode(27)}\\[[0-9;]*m`, 'g')

const example = record(
  [
    hive(
      '2',
      [
        reading('queen.seen', 'yes', { quote: 'there she is', start: 40 }),
        reading('frames.brood', [6, 7], {
          unit: 'frames',
          flag: 'check',
          confidence: 0.71,
          quote: 'six or seven frames of brood, and I would not swear to it, the light is bad in here today',
          alternatives: [{ value: 5, confidence: 0.2, why: 'corrected', quote: 'five' }],
        }),
        reading('pest.smallHiveBeetle.level', 'few', { flag: 'guess', confidence: 0.4, how: 'carried' }),
        reading('did.feed.kind', 'syrup1to1', { entry: 1 }),
        reading('cappedBrood.present', 'yes', { how: 'derived', quote: '' }),
      ],
      [
        {
          box: 'super 1',
          readings: [reading('frames.honey', 3.5, { unit: 'frames' })],
          frames: [{ frame: 3, readings: [reading('honey.cappedPercent', 75, { unit: 'percent', side: 'B' })] }],
        },
      ],
    ),
    hive('olive', [reading('temperament', 'defensive')]),
  ],
  {
    visit: [reading('visit.apiary', 'Quarry Paddock'), reading('weather.temperature', 22, { unit: 'C' })],
    remarks: [
      {
        hive: 'olive',
        box: null,
        frame: null,
        side: null,
        quote: 'they are busy on the bottlebrush',
        start: 90,
        end: 122,
        at: null,
        standing: 'affirmed',
      },
    ],
    questions: [
      {
        hive: '2',
        box: null,
        frame: null,
        side: null,
        field: 'eggs.present',
        ask: 'Were there eggs?',
        quote: 'as for eggs, well',
        start: 130,
        end: 147,
        at: null,
      },
    ],
  },
)

describe('the table', () => {
  const lines = table(example, plain).split('\n')
  const lineWith = (words: string) => lines.find((line) => line.includes(words)) ?? `no line with ${words}`

  test('says the mark of a doubtful value in words, beside its quote', () => {
    expect(lineWith('frames of brood')).toMatch(/frames of brood\s+6 to 7 \(or 5\?\) check “six or seven/)
    expect(lineWith('small hive beetle')).toMatch(/few\s+guess\s/)
    expect(lineWith('queen seen')).toMatch(/queen seen\s+yes\s+“there she is”$/)
  })

  test('groups by hive, then box, then frame', () => {
    const order = ['Whole visit', 'Hive 2', '  super 1', '    frame 3', '      honey capped, side B', 'Hive olive']
    expect(order.map((start) => lines.findIndex((line) => line.startsWith(start)))).toEqual(
      order.map((start) => lines.findIndex((line) => line.startsWith(start))).sort((a, b) => a - b),
    )
    for (const start of order) expect(lines.some((line) => line.startsWith(start))).toBe(true)
  })

  test('keeps remarks with their hive and shows questions', () => {
    expect(lines.indexOf('Hive olive')).toBeLessThan(lines.findIndex((line) => line.includes('bottlebrush')))
    expect(lineWith('Were there eggs?')).toContain('hive 2')
  })

  test('with colour is the same text as without', () => {
    const painted = table(example, coloured)
    expect(painted).toMatch(escapes)
    expect(painted.replace(escapes, '')).toBe(table(example, plain))
  })

  test('of a note without readings says so', () => {
    expect(table(record([]), plain)).toContain('No reading')
  })
})

describe.each([40, 80, 100])('at %i columns no line is wider', (width) => {
  const long = record([
    hive('grandmother’s hive behind the shed', [
      reading('queen.seen', 'yes', { quote: 'x'.repeat(300) }),
      reading('visit.apiary', '女王蜂'.repeat(40), { quote: '女王蜂を見た'.repeat(20) }),
    ]),
  ])
  test.each([
    ['table', table(example, { colour: false, width })],
    ['table of long words', table(long, { colour: false, width })],
    ['why', why(example, 'all', { colour: false, width })],
  ])('%s', (_, text) => {
    for (const line of text.split('\n')) expect(stringWidth(line), line).toBeLessThanOrEqual(width)
  })
})

test('a quote cannot drive the terminal', () => {
  const nasty = record([
    hive('2', [reading('queen.seen', 'yes', { quote: 'there \u001b[2J\u0007she\u202e is\r\nnow' })]),
  ])
  for (const text of [table(nasty, plain), why(nasty, 'all', plain)]) {
    expect(text).toContain('“there [2Jshe is now”')
    expect(text).not.toMatch(/[^\P{C}\n]/u)
  }
})

describe('machine forms', () => {
  test('readings are JSON Lines with exactly the documented keys', () => {
    const lines = readings(example)
      .trimEnd()
      .split('\n')
      .map((line) => JSON.parse(line))
    expect(lines).toHaveLength(10)
    const keys = 'note hive box frame side field value unit confidence flag how quote start end at'.split(' ')
    for (const line of lines) expect(Object.keys(line).filter((key) => key !== 'entry')).toEqual(keys)
    expect(lines.find((line) => line.field === 'honey.cappedPercent')).toMatchObject({
      hive: '2',
      box: 'super 1',
      frame: 3,
      side: 'B',
      value: 75,
      unit: 'percent',
    })
  })

  test('one record is an object, several are a list', () => {
    expect(JSON.parse(recordJson([example]))).toEqual(example)
    expect(JSON.parse(recordJson([example, example]))).toHaveLength(2)
  })
})

describe('why', () => {
  test('shows words, grammar line, what counted and what lost', () => {
    const text = why(example, 'frames.brood', plain)
    expect(text).toContain('hive 2  frames.brood = 6 to 7\n  0.71 check, stated\n')
    expect(text).toContain('by queen.json:3')
    expect(text).toMatch(/value {2}0\.\d\d: .*base [+−]\d\.\d\d/)
    expect(text).toMatch(/hive {3}0\.\d\d: .*hiveByWord [+−]\d\.\d\d/)
    expect(text).toContain('lost   5 at 0.20, corrected “five”')
  })

  test.each([
    ['queen', ['queen.seen']],
    ['2:frames', ['frames.brood', 'frames.honey']],
    ['olive:all', ['temperament']],
  ])('takes %s', (asked, fields) => {
    const shown = [...why(example, asked, plain).matchAll(/ {2}(\S+) = /g)].map((match) => match[1])
    expect(shown).toEqual(fields)
  })

  test('names the fields there are when the one asked for has no reading', () => {
    const text = why(example, 'eggs.present', plain)
    expect(text).toContain('no reading of eggs.present')
    expect(text).toContain('queen.seen')
    expect(text).toContain('asked: Were there eggs?')
  })
})

test('the account prints every stretch with what became of it', () => {
  const text = 'Right then. Queen seen. They are busy.'
  const seen = reading('queen.seen', 'yes', { id: 'q1', quote: 'Queen seen.', start: 12, flag: 'check' })
  const accounted = record([hive('2', [seen])], {
    account: [
      { start: 0, end: 11, kind: 'talk', standing: 'talk', readings: [] },
      { start: 11, end: 12, kind: 'space', standing: '', readings: [] },
      { start: 12, end: 23, kind: 'evidence', standing: 'affirmed', readings: ['q1'] },
      { start: 23, end: 24, kind: 'space', standing: '', readings: [] },
      { start: 24, end: 38, kind: 'remark', standing: 'affirmed', readings: [] },
    ],
  })
  const printed = account(accounted, text, plain)
  expect(printed).toContain('talk 11, space 2, evidence 11, remark 14')
  expect(printed).toMatch(/^12 +evidence, affirmed +Queen seen\.\n +queen seen: yes \(check\)$/m)
  for (const words of ['Right then.', 'They are busy.']) expect(printed).toContain(words)
})
