import { describe, expect, test } from 'vitest'
import { CombscribeError, type ErrorCode } from '../../src/errors.ts'
import { openTranscript } from '../../src/transcript/open.ts'

const bytes = (...values: number[]) => Uint8Array.from(values)
const srt = (times: string) => `1\n00:00:01,000 --> 00:00:02,000\nqueen seen\n\n2\n${times}\nsix frames\n`
const noise = Uint8Array.from({ length: 4000 }, (_, index) => (index * 7919 + (index >> 3) * 31) % 32)

const table: [name: string, input: Uint8Array | string, code: ErrorCode, says: RegExp][] = [
  ['an empty file', '', 'empty', /^note: the file is empty; /],
  ['no bytes', bytes(), 'empty', /the file is empty/],
  ['a byte order mark alone', bytes(0xef, 0xbb, 0xbf), 'empty', /the file is empty/],
  ['blank space', ' \r\n\t\n\u00a0', 'empty', /nothing but blank space/],
  [
    'a PNG picture',
    bytes(0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 0, 0, 0, 13),
    'not-text',
    /a picture \(PNG\)/,
  ],
  ['a JPEG picture', bytes(0xff, 0xd8, 0xff, 0xe0, 0, 16, 0x4a, 0x46), 'not-text', /a picture \(JPEG\)/],
  ['a sound recording', new TextEncoder().encode('RIFF\0\0\0\0WAVEfmt '), 'not-text', /sound recording/],
  ['a phone film', new TextEncoder().encode('\0\0\0\x18ftypmp42\0\0'), 'not-text', /MP4/],
  ['binary without a known start', noise, 'not-text', /this is not a transcript/],
  ['NUL characters', 'queen seen\nsix\0 frames', 'not-text', /^note:2: .*NUL characters/],
  [
    'JSON of an unknown shape',
    '{"weather":"fine","bees":12}',
    'unknown-shape',
    /its keys are "weather", "bees".*known are .*OpenAI verbose_json.*Vosk JSON.*plain text/,
  ],
  ['a JSON array of an unknown shape', '[{"weather":"fine"}]', 'unknown-shape', /an array; its keys are "weather"/],
  ['a JSON array of words', '["queen","seen"]', 'unknown-shape', /it has no keys/],
  [
    'a known shape with a wrong part',
    '{"task":"transcribe","text":"a","segments":[{"text":"a","start":0,"end":"soon"}]}',
    'unknown-shape',
    /looks like OpenAI verbose_json, but "segments\.0\.end"/,
  ],
  [
    'truncated JSON',
    '{"text":"queen seen",\n"segments":[{"text":"queen',
    'bad-json',
    /^note:2: the JSON breaks off in the middle/,
  ],
  ['damaged JSON', '{"text":"queen seen",\n,"duration":3}', 'bad-json', /^note:2: the JSON is damaged/],
  [
    'broken SRT times',
    srt('00:00:xx,000 --> 00:00:05,000'),
    'bad-times',
    /^note:6: "00:00:xx,000 --> 00:00:05,000" is no pair of subtitle times/,
  ],
  ['an SRT minute of 75', srt('00:75:03,000 --> 00:75:05,000'), 'bad-times', /^note:6: /],
  ['an SRT line without its end', srt('00:00:03,000 -->'), 'bad-times', /^note:6: /],
  ['broken WebVTT times', 'WEBVTT\n\n00:01.000 --> 00:0b.000\nqueen seen', 'bad-times', /^note:3: /],
  [
    'broken TTML times',
    '<tt xmlns="http://www.w3.org/ns/ttml"><body>\n<p begin="soon">queen seen</p></body></tt>',
    'bad-times',
    /^note:2: "soon" is no time/,
  ],
  [
    'silence, as subtitles',
    'WEBVTT\n\n00:01.000 --> 00:02.000\n[music]\n',
    'no-speech',
    /there is no speech in it \(WebVTT subtitles\)/,
  ],
  ['subtitles without cues', 'WEBVTT\n\nNOTE nothing\n', 'no-speech', /no speech/],
  ['silence, as JSON', '{"text":"","segments":[],"task":"transcribe"}', 'no-speech', /no speech/],
  ['silence, as text', '[BLANK_AUDIO]\n', 'no-speech', /no speech/],
  ['an error of the recogniser', '{"RecognitionStatus":"NoMatch","Offset":0,"Duration":0}', 'no-speech', /no speech/],
]

describe('bad input is one clear sentence', () => {
  test.each(table)('%s', (_, input, code, says) => {
    let caught: unknown
    try {
      openTranscript(input, 'note')
    } catch (error) {
      caught = error
    }
    expect(caught).toBeInstanceOf(CombscribeError)
    const error = caught as CombscribeError
    expect(error.code).toBe(code)
    expect(error.message).toMatch(says)
    expect(error.message).toMatch(/^note(:\d+)?: [^\n]+\.$/)
  })
})

describe('damage that leaves words is read, with a notice', () => {
  test('broken bytes', () => {
    const { text, notices } = openTranscript(
      bytes(0x71, 0x75, 0x65, 0x65, 0x6e, 0x0a, 0xc3, 0xa9, 0xe2, 0x80, 0x20, 0x73),
      'note',
    )
    expect(text).toBe('queen\né\ufffd s')
    expect(notices).toMatchObject([{ kind: 'broken-text', message: expect.stringContaining('line 2') }])
  })
  test('lone surrogates, in text and in JSON', () => {
    const { text } = openTranscript('queen \ud800seen', 'note')
    expect(text).toBe('queen \ufffdseen')
    const json = openTranscript('{"text":"queen \\ud83d seen"}', 'note')
    expect(json.text).toBe('queen \ufffd seen')
    expect(json.notices).toMatchObject([{ kind: 'broken-text' }])
  })
  test('a stream that breaks off after whole objects', () => {
    const { text, notices } = openTranscript('{"text":"queen seen"}\n{"text":"six fra', 'note')
    expect(text).toBe('queen seen')
    expect(notices).toMatchObject([{ kind: 'cut-off', message: expect.stringContaining('line 2') }])
  })
})

describe('encodings', () => {
  const said = 'Hive 3 – ½ full\r\nqueen seen'
  const utf16 = (swap: boolean, mark: boolean) => {
    const units = [...(mark ? '\ufeff' : ''), ...said].map((char) => char.charCodeAt(0))
    return Uint8Array.from(units.flatMap((unit) => (swap ? [unit >> 8, unit & 255] : [unit & 255, unit >> 8])))
  }
  test.each([
    ['UTF-8', new TextEncoder().encode(said)],
    ['UTF-8 with its mark', new TextEncoder().encode(`\ufeff${said}`)],
    ['UTF-16 LE', utf16(false, true)],
    ['UTF-16 BE', utf16(true, true)],
    ['UTF-16 LE without a mark', utf16(false, false)],
    ['a string with a mark', `\ufeff${said}`],
  ])('%s', (_, input) => expect(openTranscript(input, 'note').text).toBe(said))

  // 0x96 and 0xbd by the Windows-1252 index of the WHATWG Encoding Standard.
  test('Windows-1252', () => {
    const input = Uint8Array.from([...said].map((char) => (char === '–' ? 0x96 : char.charCodeAt(0))))
    expect(openTranscript(input, 'note').text).toBe(said)
  })
})

test('a line of 50 MB is read in linear time', () => {
  const open = (size: number, unit: string) => {
    const text = unit.repeat(size / unit.length)
    const start = performance.now()
    const { segments } = openTranscript(text, 'note')
    return { ms: performance.now() - start, segments }
  }
  for (const unit of ['queen seen six frames ', '[1:0 --> <', ':-{"[\\ ', 'a']) {
    const small = open(5_000_000, unit)
    const large = open(50_000_000, unit)
    expect(large.segments.length).toBeGreaterThan(0)
    // Ten times the text; a quadratic step would take a hundred times as long.
    expect(large.ms).toBeLessThan(30 * Math.max(small.ms, 50))
  }
}, 60_000)
