import stringWidth from 'string-width'
import { describe, expect, test } from 'vitest'
import { findingsText } from '../src/report/findings.ts'
import { report } from '../src/report/report.ts'
import type { Finding } from '../src/rules/finding.ts'
import { hive, reading, record } from './records.ts'

const plain = { colour: false, width: 80 }

function finding(more: Partial<Finding> & { at?: Partial<Finding['place']>; what?: string; next?: string }): Finding {
  const { at, what = 'Something was found', next = 'Do something', ...rest } = more
  return {
    rule: 'some-rule',
    title: 'Some rule',
    kind: 'alarm',
    verdict: 'act',
    place: { hive: '2', box: null, frame: null, side: null, ...at },
    provisional: false,
    says: { what, why: 'Because of what was said', next },
    restsOn: [],
    missing: [],
    flips: [],
    dates: [],
    amounts: [],
    cautions: [],
    sources: [],
    ...rest,
  } as Finding
}

/** The lines under a heading of the report. */
function block(text: string, heading: string): string {
  const from = text.split('\n\n').find((part) => part.startsWith(heading))
  return from === undefined ? '' : from.slice(from.indexOf('\n') + 1)
}

const visit = record([
  hive(
    '2',
    [
      reading('eggs.present', 'yes', { id: 'e', flag: 'check', quote: 'eggs I think', confidence: 0.7 }),
      reading('queenCells.present', 'yes'),
      reading('queenCells.count', [3, 4]),
      reading('todo.inspect', '2026-10-11'),
      reading('todo.order', 'yes', { detail: 'a feeder' }),
    ],
    [
      {
        box: 'super 1',
        readings: [],
        frames: [{ frame: 3, readings: [reading('honey.cappedPercent', 95, { unit: 'percent', side: 'A' })] }],
      },
    ],
  ),
  hive('3', [reading('temperament', 'calm', { flag: 'guess', confidence: 0.3, quote: 'calm enough' })]),
])

describe('the report', () => {
  test('puts the gravest first and marks it in words', () => {
    const findings = [
      finding({ kind: 'ready', verdict: 'yes', what: 'Ready to take' }),
      finding({ verdict: 'act', what: 'Too many beetles' }),
      finding({ verdict: 'urgent', what: 'Brood looks sick' }),
      finding({ verdict: 'watch', what: 'A few ants' }),
      finding({ verdict: 'none', what: 'No moths' }),
      finding({ kind: 'ready', verdict: 'no', what: 'Not to split' }),
    ]
    const text = report(visit, findings, plain)
    const first = block(text, 'Do first')
    expect(first.split('\n').map((line) => line.slice(0, 27))).toEqual([
      ' 1. URGENT, hive 2: Brood l',
      ' 2. hive 2: Too many beetle',
      ' 3. hive 2: Ready to take. ',
    ])
    expect(block(text, 'Keep an eye on')).toContain('A few ants')
    expect(text).not.toContain('No moths')
    expect(text).not.toContain('Not to split')
  })

  test('says the same of several sides once', () => {
    const sides = (
      [
        [2, 'B'],
        [3, 'A'],
        [3, 'B'],
      ] as const
    ).map(([frame, side]) =>
      finding({ kind: 'ready', verdict: 'yes', what: 'This side is ready', at: { box: 'super 1', frame, side } }),
    )
    expect(block(report(visit, sides, plain), 'Do first')).toContain('1. hive 2, super 1, frames 2B, 3A, 3B: This side')
    expect(block(report(visit, sides, plain), 'Do first')).not.toContain('2. ')
  })

  test('says in words what is not certain and which words it rests on', () => {
    const shaky = finding({
      provisional: true,
      flips: [
        { reading: 'e', field: 'eggs.present', value: 'yes', instead: 'no', verdict: 'urgent', quote: 'eggs I think' },
      ],
    })
    const text = report(visit, [shaky], plain)
    expect(block(text, 'Do first').replace(/\s+/g, ' ')).toContain('Not certain: it rests on “eggs I think”')
    const doubts = block(text, 'Not sure of').split('\n')
    expect(doubts[0]).toBe('  7 readings, 1 to check, 1 guessed.')
    expect(doubts[1]).toContain('hive 2: eggs yes? “eggs I think” (changes what to do) [check]')
    expect(doubts[2]).toContain('[guess]')
  })

  test('lists what is due by the calendar, plans without a day last', () => {
    const dated = finding({
      kind: 'when',
      verdict: 'dated',
      dates: [
        { event: 'first cell may be sealed', earliest: '2026-10-06', likely: '2026-10-08', latest: '2026-10-09' },
      ],
    })
    expect(
      block(report(visit, [dated], plain), 'Due')
        .split('\n')
        .map((line) => line.trim().replace(/\s+/g, ' ')),
    ).toEqual([
      'Thu 8 Oct hive 2, first cell may be sealed, between Tue 6 Oct and Fri 9 Oct',
      'Sun 11 Oct hive 2, look in, as you said',
      'no day said hive 2, get or order (a feeder), as you said',
    ])
  })

  test('names several hives once for the same thing on the same day', () => {
    const look = (label: string) =>
      finding({
        kind: 'when',
        verdict: 'dated',
        at: { hive: label },
        dates: [{ event: 'next look', earliest: '2026-10-10', likely: '2026-10-10', latest: '2026-10-10' }],
      })
    const plan = record([hive('2', [reading('todo.treat', 'yes'), reading('todo.treat.when', 'in July')])])
    expect(block(report(plan, [look('2'), look('3'), look('3')], plain), 'Due').split('\n')).toEqual([
      '  Sat 10 Oct  hive 2, hive 3, next look',
      '  no day said hive 2, treat in July, as you said',
    ])
  })

  test('shows every hive, with a question mark at what is doubtful', () => {
    const seen = block(report(visit, [], plain), 'Seen')
    expect(seen).toMatch(/Hive 2: eggs\?; 3 to 4 queen cells; super 1: % capped by frame 3A\s95/)
    expect(seen).toContain('Hive 3: temper: calm?')
  })

  test('asks once for what several rules miss, naming the other hives', () => {
    const ask = (label: string) =>
      finding({
        verdict: 'cannot tell',
        at: { hive: label },
        missing: [{ field: 'eggs.present', ask: `Say whether you saw eggs in hive ${label}.`, priority: 'first' }],
      })
    const open = block(report(visit, [ask('2'), ask('2'), ask('3')], plain), 'Still to be said')
    expect(open).toBe('  - Say whether you saw eggs in hive 2. The same for hive 3.')
  })

  test('gives each caution once, and only for what is to be done', () => {
    const twice = [finding({ cautions: ['stings'] }), finding({ cautions: ['stings'], what: 'Another' })]
    expect(block(report(visit, twice, plain), 'Take care').match(/Stings:/g)).toHaveLength(1)
    expect(report(visit, [finding({ verdict: 'none', cautions: ['stings'] })], plain)).not.toContain('Stings')
  })

  test('of an empty record says that nothing was read', () => {
    expect(report(record([]), [], plain)).toContain('No reading')
  })

  test('fits its width and says the same in colour', () => {
    const all = [finding({ verdict: 'urgent', what: 'word '.repeat(60), cautions: ['stings', 'infants'] })]
    for (const width of [40, 80]) {
      for (const line of report(visit, all, { colour: false, width }).split('\n')) {
        expect(stringWidth(line), line).toBeLessThanOrEqual(width)
      }
    }
    const escapes = new RegExp(`${String.fromCharCode(27)}\\[[0-9;]*m`, 'g')
    expect(report(visit, all, { colour: true, width: 80 }).replace(escapes, '')).toBe(report(visit, all, plain))
  })
})

test('the full list gives verdict, reasons, grounds and sources of every finding', () => {
  const text = findingsText(
    'note',
    [
      finding({
        title: 'Too many beetles',
        verdict: 'act',
        restsOn: [{ reading: 'b', note: 'note', field: 'pest.smallHiveBeetle.count', value: 30, quote: 'thirty' }],
        sources: ['some-source'],
      }),
      finding({ at: { hive: '3' }, title: 'Wax moth', verdict: 'none' }),
    ],
    plain,
  )
  for (const words of [
    'Too many beetles: act',
    'Because of what was said.',
    'pest.smallHiveBeetle.count = 30 “thirty”',
    'some-source',
    'hive 3',
    'Wax moth: none',
  ]) {
    expect(text).toContain(words)
  }
})
