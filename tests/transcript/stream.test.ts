import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { createStream, type StreamResult } from '../../src/transcript/stream.ts'

const folder = new URL('../../fixtures/transcripts/', import.meta.url)
const said = ({ kind, text }: StreamResult): string => `${kind}: ${text}`
const taken = (lines: readonly string[]): string[] => {
  const stream = createStream('standard input')
  return lines.flatMap((line) => stream.take(line)).map(said)
}
const file = (name: string): string[] => readFileSync(new URL(name, folder), 'utf8').split('\n')

describe('the streams of recognisers, as they are documented', () => {
  test.each([
    ['aws-stream.jsonl', ['partial: Queen scene', 'final: Queen seen today.']],
    ['assemblyai-stream.jsonl', ['final: queen seen today', 'revised: Queen seen today.']],
    ['deepgram-live.jsonl', ['partial: queen scene', 'final: queen seen today']],
    ['google-stream.jsonl', ['partial: queen scene', 'final: queen seen']],
    ['openai-stream.txt', ['partial: Queen', 'partial: Queen scene', 'final: Queen seen today.', 'partial: Six fra']],
    ['speechmatics-live.jsonl', ['partial: clean', 'final: queen', 'revised: queen seen']],
    ['revai-stream.jsonl', ['partial: queen scene', 'final: Queen seen.']],
  ])('%s', (name, results) => {
    expect(taken(file(name))).toEqual(results)
  })

  test('a phone browser whose finals grow', () => {
    const results = ['queen', 'queen seen', 'queen seen six frames', 'queen seen six frames'].map((transcript) =>
      JSON.stringify({ isFinal: true, alternatives: [{ transcript, confidence: 0 }] }),
    )
    expect(taken(results)).toEqual(['final: queen', 'revised: queen seen', 'revised: queen seen six frames'])
  })

  test('Vosk: partial results, then the final one over several lines', () => {
    const lines = [
      '{"partial" : "hive"}',
      '{"partial" : "hive two"}',
      '{',
      '  "result" : [{"conf" : 1.0, "end" : 0.6, "start" : 0.2, "word" : "hive"},',
      '    {"conf" : 0.6, "end" : 1.0, "start" : 0.7, "word" : "two"}],',
      '  "text" : "hive two"',
      '}',
    ]
    expect(taken(lines)).toEqual(['partial: hive', 'partial: hive two', 'final: hive two'])
    const stream = createStream('standard input')
    expect(lines.flatMap((line) => stream.take(line)).at(-1)).toMatchObject({
      at: 0.2,
      until: 1,
      words: [
        { text: 'hive', at: 0.2, confidence: 1 },
        { text: 'two', at: 0.7, confidence: 0.6 },
      ],
    })
  })

  test('an hour of finals: each is told once', () => {
    const lines = Array.from({ length: 300 }, (_, i) => JSON.stringify({ text: `frame ${i % 7}` }))
    expect(taken(lines)).toEqual(lines.map((line) => `final: ${JSON.parse(line).text}`))
  })
})

describe('lines of other kinds', () => {
  test('plain words, also with brackets in them', () => {
    expect(taken(['hive two', '', '  six frames ', '(cough) [wind] no eggs'])).toEqual([
      'final: hive two',
      'final: six frames',
      'final: (cough) [wind] no eggs',
    ])
  })
  test('greetings and statistics say nothing', () => {
    expect(taken(['{"type":"Begin","id":"made-up"}', '{"type":"Metadata","duration":3.1}', 'data: [DONE]'])).toEqual([])
  })
  test('JSON whose words are not found, or that is broken, is named', () => {
    const stream = createStream('standard input')
    expect(() => stream.take('{"said":{"speech":"hive two"}}')).toThrow(/standard input: .*without a "text".*"said"/)
    expect(() => stream.take('{"text":"hive two"]}')).toThrow(/broken JSON/)
    expect(stream.take('{"text":"hive two"}').map(said)).toEqual(['final: hive two'])
  })
  test('a message that breaks off does not swallow the next', () => {
    expect(taken(['{"text":"hive tw', '{"text":"hive three"}'])).toEqual(['final: hive three'])
  })
})
