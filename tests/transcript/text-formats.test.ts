import { describe, expect, test } from 'vitest'
import { slice } from '../../src/span.ts'
import { openTranscript } from '../../src/transcript/open.ts'

const said = (input: string) => {
  const { text, segments } = openTranscript(input, 'note')
  return segments.map((segment) => slice(text, segment))
}
const shape = (input: string) => {
  const { text, format, segments } = openTranscript(input, 'note')
  return { format, said: segments.map((segment) => [segment.at, segment.speaker, slice(text, segment)]) }
}

describe('content that looks like a stamp or a speaker stays content', () => {
  test.each([
    'Fed 1:1 syrup at 2:30 and left.',
    '1:1 syrup in the top\nqueen seen\nsix frames of brood',
    'two to one\n2:1 syrup\nthen we stopped\nand 1:1 in spring',
    'Hive 3: strong\nHive 4: weak\nHive 5: strong',
    'Queen: seen\nTemper: calm\nQueen: not seen\nTemper: hot',
    'row one\n3 4 6 7\n8 5 3 2',
    'Weather: fine\nWeather: better later',
  ])('%j', (text) => {
    const { format, segments } = openTranscript(text, 'note')
    expect(format).toBe('plain')
    expect(segments).toMatchObject([{ start: 0, end: text.length }])
    expect(segments[0]).not.toHaveProperty('speaker')
  })
})

describe('stamps', () => {
  test.each([
    [
      'brackets',
      '[0:04] hive three\n[0:09] queen seen',
      [
        [4, undefined, 'hive three'],
        [9, undefined, 'queen seen'],
      ],
    ],
    [
      'hours',
      '[1:00:04] hive three\n[1:00:09] queen seen',
      [
        [3604, undefined, 'hive three'],
        [3609, undefined, 'queen seen'],
      ],
    ],
    ['one only, at the start', '[0:04] hive three', [[4, undefined, 'hive three']]],
    [
      'bare',
      '0:04 hive three\n0:09 queen seen',
      [
        [4, undefined, 'hive three'],
        [9, undefined, 'queen seen'],
      ],
    ],
    [
      'with a dash',
      '0:04 - hive three\n0:09 - queen seen',
      [
        [4, undefined, 'hive three'],
        [9, undefined, 'queen seen'],
      ],
    ],
    [
      'round brackets',
      '(0:04) hive three\n(0:09) queen seen',
      [
        [4, undefined, 'hive three'],
        [9, undefined, 'queen seen'],
      ],
    ],
    [
      'alone on their line',
      '0:04\nhive three\n0:09\nqueen seen',
      [
        [4, undefined, 'hive three'],
        [9, undefined, 'queen seen'],
      ],
    ],
    [
      'within one line',
      '[0:04] hive three [0:09] queen seen',
      [
        [4, undefined, 'hive three'],
        [9, undefined, 'queen seen'],
      ],
    ],
    [
      'more than an hour in minutes',
      '[75:10] hive three\n[75:12] queen seen',
      [
        [4510, undefined, 'hive three'],
        [4512, undefined, 'queen seen'],
      ],
    ],
    [
      'words before the first',
      'home yard\n[0:04] hive three\n[0:09] ok',
      [
        [undefined, undefined, 'home yard'],
        [4, undefined, 'hive three'],
        [9, undefined, 'ok'],
      ],
    ],
    [
      'recogniser labels',
      '[0:04] [SPEAKER_00]: hive three\n[0:09] Speaker 2: queen seen',
      [
        [4, 'SPEAKER_00', 'hive three'],
        [9, 'Speaker 2', 'queen seen'],
      ],
    ],
  ])('%s', (_, text, expected) => expect(shape(text)).toEqual({ format: 'stamped', said: expected }))
})

test('list marks and dialogue dashes in plain text are no speech', () => {
  expect(said('- Yes.\n- No.\n* six frames\n>> queen seen')).toEqual(['Yes.', 'No.', 'six frames', 'queen seen'])
  expect(said('-5 degrees\nand windy')).toEqual(['-5 degrees\nand windy'])
})

describe('subtitles', () => {
  const cue = (payload: string) =>
    `1\n00:00:01,000 --> 00:00:02,000\n${payload}\n\n2\n00:00:03,000 --> 00:00:04,000\nnext one`
  test.each([
    ['- Yes. - No.', ['Yes.', 'No.']],
    ['-Yes.\n-No, six.', ['Yes.', 'No, six.']],
    ['- How many? - 6. - Good.', ['How many?', '6.', 'Good.']],
    ['-5 degrees, no wind', ['-5 degrees, no wind']],
    ['a well-kept hive - quiet', ['a well-kept hive - quiet']],
    ['<font color="#fff">queen</font> <b>seen</b>', ['queen seen']],
    ['fewer <5 mites & <3 drops', ['fewer <5 mites & <3 drops']],
    ['12', ['12']],
    ['six\n\nframes', ['six\nframes']],
    ['KEEPER: queen seen', ['queen seen']],
    ['HIVE 3: queen seen', ['HIVE 3: queen seen']],
  ])('%j', (payload, expected) => expect(said(cue(payload))).toEqual([...expected, 'next one']))

  test('tolerated: no counters, counters without a blank line, no hours, short fractions, wide arrows', () => {
    expect(shape('00:01,5-->00:02\nqueen seen\n3\n00:03.25 -->  00:04.000 align:start\nsix').said).toEqual([
      [1.5, undefined, 'queen seen'],
      [3.25, undefined, 'six'],
    ])
  })
  test('a cue that ends before it begins keeps its words and loses its end', () => {
    const { segments } = openTranscript('1\n00:00:05,000 --> 00:00:02,000\nqueen seen', 'note')
    expect(segments).toMatchObject([{ at: 5 }])
    expect(segments[0]).not.toHaveProperty('until')
  })
  test('a repetition that the speaker made stays', () => {
    expect(said(talkOf('Yes.', 'Yes.', 'Yes.', 'queen seen'))).toEqual(['Yes.', 'Yes.', 'Yes.', 'queen seen'])
  })
})

const talkOf = (...cues: string[]) =>
  cues.map((text, index) => `${index + 1}\n00:00:0${index},000 --> 00:00:0${index + 1},000\n${text}\n`).join('\n')
