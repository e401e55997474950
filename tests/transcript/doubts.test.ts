import { describe, expect, test } from 'vitest'
import { slice } from '../../src/span.ts'
import { openTranscript } from '../../src/transcript/open.ts'
import type { OpenOptions } from '../../src/transcript/source.ts'

interface Heard {
  at: number
  until: number
  text: string
}

const clock = (seconds: number) => new Date(seconds * 1000).toISOString().slice(11, 23)
const subtitles = (heard: readonly Heard[]) =>
  `WEBVTT\n\n${heard.map(({ at, until, text }) => `${clock(at)} --> ${clock(until)}\n${text}\n`).join('\n')}`

/** Segments two seconds long, one after another; a number is a pause of so many seconds. */
function talk(...parts: (string | number)[]): string {
  let now = 0
  const heard: Heard[] = []
  for (const part of parts) {
    if (typeof part === 'number') now += part
    else {
      heard.push({ at: now, until: now + 2, text: part })
      now += 2
    }
  }
  return subtitles(heard)
}

const suspects = (input: string, options?: OpenOptions) => {
  const { text, segments } = openTranscript(input, 'note', options)
  return segments.filter(({ suspect }) => suspect).map((segment) => `${slice(text, segment)}: ${segment.suspect}`)
}

describe('invented lines', () => {
  // Wordings from the public issue threads ggml-org/whisper.cpp 1724 and openai/whisper discussion 679.
  test.each([
    'Thank you for watching!',
    'Thanks for watching.',
    'Please subscribe to my channel.',
    'Like and subscribe!',
    'Subtitles by the Amara.org community',
    'See you in the next video.',
    'Thanks for watching! Thanks for watching!',
  ])('%s is one anywhere', (line) => {
    expect(suspects(talk('hive three', line, 'queen seen'))).toEqual([`${line}: sign-off`])
  })
  test.each(['Thank you.', 'Bye. Bye.', 'you'])('%s is one only beside silence', (line) => {
    expect(suspects(talk('hive three', line, 'queen seen'))).toEqual([])
    expect(suspects(talk('hive three', 6, line, 'queen seen'))).toEqual([`${line}: sign-off`])
    expect(suspects(talk('hive three', line, 6, 'queen seen'))).toEqual([`${line}: sign-off`])
    expect(suspects(talk('hive three', 'queen seen', line))).toEqual([`${line}: sign-off`])
  })
  test('a trade word clears a line, by the list or by the caller', () => {
    expect(suspects(talk('hive three', 'queen seen', 6, 'Thank you, queen.'))).toEqual([])
    expect(suspects(talk('hive three', 6, 'bye', 'six'), { isTradeWord: (word) => word === 'bye' })).toEqual([])
  })
  test("lines on the decoder's own clock", () => {
    const heard = [28, 30, 58, 60, 62].map((at) => ({
      at,
      until: at + 2,
      text: at % 30 === 0 ? 'Thank you.' : 'six frames',
    }))
    expect(suspects(subtitles(heard))).toEqual(['Thank you.: sign-off', 'Thank you.: sign-off'])
  })
  test('glued to the last words of a text without segments', () => {
    expect(suspects('Hive three, queen seen. Thank you for watching.')).toEqual(['Thank you for watching.: sign-off'])
    expect(suspects('Hive three, queen seen. Thank you for holding that.')).toEqual([])
  })
  test('where the engine heard no speech', () => {
    const segment = (text: string, silence: number) => ({
      text,
      start: 0,
      end: 2,
      avg_logprob: -1.4,
      no_speech_prob: silence,
    })
    const json = (silence: number, text: string) =>
      JSON.stringify({ text: '', segments: [segment('Hive three.', 0.1), segment(text, silence)] })
    expect(suspects(json(0.9, 'And so it goes.'))).toEqual(['And so it goes.: no-speech'])
    expect(suspects(json(0.2, 'And so it goes.'))).toEqual([])
    expect(suspects(json(0.9, 'Six frames of brood.'))).toEqual([])
  })
})

describe('loops', () => {
  const rounds = (phrase: string, times: number) => Array.from({ length: times }, () => phrase).join(' ')
  test('inside a segment: the first round stays', () => {
    expect(suspects(`six frames of brood ${rounds('and two of honey', 3)} and two of honey`)).toEqual([
      `${rounds('and two of honey', 3)}: loop`,
    ])
  })
  test.each([
    'no no no',
    'next one same next one same next one same',
    'empty empty empty empty',
    '8 8 8 8 8 8 8 8 8 8',
  ])('a keeper says "%s"', (text) => expect(suspects(`hive three ${text}`)).toEqual([]))
  test('over segments', () => {
    const line = 'I will see what that is'
    expect(suspects(talk('hive three', line, line, line, line, line, 'queen seen'))).toEqual(
      Array(4).fill(`${line}: loop`),
    )
    expect(suspects(talk('hive three', line, line, 'queen seen'))).toEqual([])
    expect(suspects(talk('frame one', 'Yes.', 'Yes.', 'Yes.', 'Yes.', 'Yes.', 'Yes.'))).toEqual([])
  })
  test('a loop of trade words, however sure, is one', () => {
    expect(suspects(rounds('six frames of brood', 300))).toEqual([`${rounds('six frames of brood', 299)}: loop`])
  })
})

test("the recogniser's own hint", () => {
  const hint = 'Hive notes: propolis, excluder, nuc, varroa, supersedure cells, capped brood.'
  expect(suspects(talk('Hive notes: propolis, excluder, nuc, varroa', 'capped brood'), { hint })).toEqual([
    'Hive notes: propolis, excluder, nuc, varroa: echoed-hint',
  ])
  expect(suspects(talk('Hive notes: propolis, excluder, nuc, varroa', 'capped brood'))).toEqual([])
})

test('another script than the rest', () => {
  expect(suspects(talk('hive three', 'queen seen', 'ご視聴ありがとうございました'))).toEqual([
    'ご視聴ありがとうございました: other-script',
  ])
  expect(suspects(talk('улей три', 'матка есть'))).toEqual([])
})

describe('notices', () => {
  const notices = (input: string) => openTranscript(input, 'note').notices ?? []
  test('a silence in which a whole window may be lost', () => {
    expect(notices(talk('hive three', 30, 'queen seen', 70, 'six frames'))).toMatchObject([
      {
        kind: 'gap',
        message: 'nothing was written down from 0:34 to 1:44, the longest of 2 such gaps; words may be lost there',
      },
    ])
    expect(notices(talk('hive three', 20, 'queen seen'))).toEqual([])
  })
  test('a masked word, with its place', () => {
    const text = 'hive three s** frames of brood'
    const [notice] = notices(text)
    expect(notice?.kind).toBe('masked')
    expect(slice(text, notice!.span!)).toBe('s**')
  })
  test('times that run backwards', () => {
    expect(notices('[0:40] hive three\n[0:50] queen seen\n[0:02] hive four')).toMatchObject([{ kind: 'order' }])
  })
  test('one a kind, at its first place', () => {
    const input = talk('hive three', 'Thanks for watching!', 'queen seen', 'Thanks for watching!')
    const { text, notices } = openTranscript(input, 'note')
    expect(notices).toHaveLength(1)
    expect(notices![0]!.message).toContain('2 times')
    expect(notices![0]!.span).toEqual({ start: text.indexOf('Thanks'), end: text.indexOf('Thanks') + 20 })
  })
})
