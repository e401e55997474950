import { readdirSync, readFileSync } from 'node:fs'
import fc from 'fast-check'
import * as mediaCaptions from 'media-captions'
import { expect, test } from 'vitest'
import { CombscribeError } from '../../src/errors.ts'
import { openTranscript } from '../../src/transcript/open.ts'
import type { Transcript } from '../../src/transcript/transcript.ts'

const folder = new URL('../../fixtures/transcripts/', import.meta.url)
const fixtures = readdirSync(folder).map((file) => readFileSync(new URL(file, folder)))
const runs = { seed: 1, numRuns: 400 }

/** Opens and checks the promises of the type; undefined for input that is refused in a proper sentence. */
function opened(input: Uint8Array | string): Transcript | undefined {
  let transcript: Transcript
  try {
    transcript = openTranscript(input, 'note')
  } catch (error) {
    if (!(error instanceof CombscribeError)) throw error
    return undefined
  }
  const { text, segments, words = [], notices = [] } = transcript
  for (const list of [segments, words]) {
    let end = 0
    for (const span of list) {
      expect(span.start).toBeGreaterThanOrEqual(end)
      expect(span.end).toBeGreaterThan(span.start)
      end = span.end
    }
    expect(end).toBeLessThanOrEqual(text.length)
  }
  for (const segment of segments) expect(text.slice(segment.start, segment.end).trim()).not.toBe('')
  for (const { confidence } of [...segments, ...words]) {
    if (confidence !== undefined) expect(confidence >= 0 && confidence <= 1).toBe(true)
  }
  for (const { at, until } of segments)
    if (at !== undefined && until !== undefined) expect(until).toBeGreaterThanOrEqual(at)
  for (const { span } of notices) if (span) expect(span.end).toBeLessThanOrEqual(text.length)
  return transcript
}

test('any bytes', () => {
  fc.assert(
    fc.property(fc.uint8Array({ maxLength: 400 }), (bytes) => void opened(bytes)),
    runs,
  )
})

test('any text of the pieces that formats are made of', () => {
  const piece = fc.constantFrom(
    ...'1 00:00:01,000 --> 00:00:02,500 [0:04] (1:20) - Yes. No. Thank you. WEBVTT <v Ann> <i> </i> &amp; NAME: Speaker 1: { } [ ] " , : {"text": start\tend\ttext ;; * <tt> <p begin="1s"> hive03 1.20 four \ud800 é 한국 [music] s** '.split(
      ' ',
    ),
    '\n',
    '\n\n',
    '\r\n',
    ' ',
    '\t',
    '-->',
    'hive three',
    'queen seen',
    'NOTE x',
    'data: {',
  )
  fc.assert(
    fc.property(fc.array(piece, { maxLength: 60 }), (parts) => void opened(parts.join(' '))),
    { ...runs, numRuns: 2000 },
  )
})

test('any JSON', () => {
  fc.assert(
    fc.property(fc.json({ maxDepth: 5 }), (json) => void opened(json)),
    runs,
  )
})

test('every fixture, cut anywhere and with any byte changed', () => {
  const damaged = fc
    .tuple(
      fc.constantFrom(...fixtures),
      fc.double({ min: 0, max: 1, noNaN: true }),
      fc.double({ min: 0, max: 1, noNaN: true }),
      fc.nat(255),
    )
    .map(([bytes, cut, place, value]) => {
      const copy = Uint8Array.from(bytes.subarray(0, Math.ceil(bytes.length * cut)))
      if (copy.length > 0) copy[Math.floor(place * (copy.length - 1))] = value
      return copy
    })
  fc.assert(
    fc.property(damaged, (bytes) => void opened(bytes)),
    { ...runs, numRuns: 3000 },
  )
})

test('every fixture with one of its JSON values replaced', () => {
  const documents = fixtures.flatMap((bytes) => {
    try {
      return [JSON.parse(bytes.toString()) as unknown]
    } catch {
      return []
    }
  })
  const replace = (value: unknown, steps: number[], by: unknown): unknown => {
    const [step, ...rest] = steps
    if (step === undefined || typeof value !== 'object' || value === null) return by
    const keys = Object.keys(value)
    const key = keys[step % Math.max(1, keys.length)]
    if (key === undefined) return by
    const copy = (Array.isArray(value) ? [...value] : { ...value }) as Record<string, unknown>
    copy[key] = replace(copy[key], rest, by)
    return copy
  }
  const by = fc.oneof(
    fc.constant(null),
    fc.constant([]),
    fc.constant({}),
    fc.constant(''),
    fc.integer(),
    fc.string(),
    fc.double(),
  )
  fc.assert(
    fc.property(fc.constantFrom(...documents), fc.array(fc.nat(8), { maxLength: 7 }), by, (document, steps, value) => {
      opened(JSON.stringify(replace(document, steps, value)))
    }),
    { ...runs, numRuns: 3000 },
  )
})

test('plain words come through untouched', () => {
  fc.assert(
    fc.property(fc.array(fc.stringMatching(/^[a-z]{1,8}$/), { minLength: 1, maxLength: 30 }), (words) => {
      const text = words.join(' ')
      expect(opened(text)?.text).toBe(text)
    }),
    runs,
  )
})

/** Its types do not resolve under this project's module settings. */
const reader = mediaCaptions as unknown as {
  parseText(
    text: string,
    options: { type: string },
  ): Promise<{ cues: { startTime: number; endTime: number; text: string }[] }>
}
const round = (seconds: number) => Math.round(seconds * 1000) / 1000

/** Against another reader: well-formed subtitles as the npm package media-captions reads them. */
test('subtitles agree with another reader', async () => {
  const line = fc.stringMatching(/^[a-z]{2,7}( [a-z]{2,7}){1,4}$/)
  const cue = fc.record({
    pause: fc.integer({ min: 0, max: 90_000 }),
    length: fc.integer({ min: 300, max: 9000 }),
    lines: fc.array(line, { minLength: 1, maxLength: 2 }),
  })
  await fc.assert(
    fc.asyncProperty(fc.array(cue, { minLength: 1, maxLength: 12 }), fc.boolean(), async (cues, isVtt) => {
      let now = 0
      const clock = (ms: number) =>
        new Date(ms)
          .toISOString()
          .slice(11, 23)
          .replace('.', isVtt ? '.' : ',')
      const blocks = cues.map(({ pause, length, lines }, index) => {
        now += pause + length
        return `${index + 1}\n${clock(now - length)} --> ${clock(now)}\n${lines.join('\n')}\n`
      })
      const text = (isVtt ? 'WEBVTT\n\n' : '') + blocks.join('\n')
      const expected = (await reader.parseText(text, { type: isVtt ? 'vtt' : 'srt' })).cues
      const transcript = opened(text)!
      const spoken = transcript.segments.map((segment) => [
        segment.at,
        segment.until,
        transcript.text.slice(segment.start, segment.end),
      ])
      expect(spoken).toEqual(expected.map((cue) => [round(cue.startTime), round(cue.endTime), cue.text]))
    }),
    { seed: 1, numRuns: 150 },
  )
})
