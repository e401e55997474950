import { readdirSync, readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { slice } from '../../src/span.ts'
import { formats } from '../../src/transcript/formats.ts'
import { openTranscript } from '../../src/transcript/open.ts'

const folder = new URL('../../fixtures/transcripts/', import.meta.url)
const open = (file: string) => openTranscript(readFileSync(new URL(file, folder)), file)

/** A segment as `text @at-until speaker !suspect`, so that a row below reads like the file it expects. */
function lines(file: string): string[] {
  const { text, segments } = open(file)
  return segments.map((segment) => {
    const times = segment.at === undefined ? '' : ` @${segment.at}-${segment.until ?? ''}`
    const who = segment.speaker === undefined ? '' : ` <${segment.speaker}>`
    const marks = `${segment.suspect ? ` !${segment.suspect}` : ''}${segment.partial ? ' ~' : ''}`
    const others = (segment.alternatives ?? []).map((other) => ` | ${other}`).join('')
    return slice(text, segment).replaceAll('\n', '/') + times + who + marks + others
  })
}

/** Words as `word@at:confidence`; `=` for a number shared by the segment, `|` before alternatives. */
function words(file: string): string {
  const transcript = open(file)
  return (transcript.words ?? [])
    .map((word) => {
      const at = word.at === undefined ? '' : `@${word.at}`
      const sure = word.confidence === undefined ? '' : `${word.shared ? '=' : ':'}${+word.confidence.toFixed(3)}`
      return slice(transcript.text, word) + at + sure + (word.alternatives ?? []).map((other) => `|${other}`).join('')
    })
    .join(' ')
}

/**
 * Expected values are worked out by hand from the fixtures, whose shapes follow the engines' published documents.
 * `e^-0.5` and the like were computed apart from the program.
 */
const table: [file: string, format: string, segments: string[], words: string][] = [
  [
    'plain.txt',
    'plain',
    [
      'Thornwick Bank, hive three. Queen seen on frame four,/six frames of brood.',
      'Hive five. Eggs, no queen seen.',
      'Thanks for watching! !sign-off',
    ],
    '',
  ],
  [
    'heard.jsonl',
    'heard',
    ['hive two @0.5-1.9', 'nine frames of brood @4.2-6.1'],
    'hive=0.91 two=0.91 nine@4.2:0.55 frames@4.6:0.97',
  ],
  [
    'dictation.txt',
    'plain',
    ['hive three queen seen six frames of brood comma two of honey full stop hive four no eggs'],
    '',
  ],
  [
    'labelled.txt',
    'plain',
    [
      "Lid's off. Count me the seams. <Maren>",
      'Five, six... seven. <Teddy>',
      'Seven, then. Any eggs? <Maren>',
      'Yes. <Teddy>',
    ],
    '',
  ],
  [
    'stamped.txt',
    'stamped',
    [
      'hive three, queen seen @4- <MAREN>',
      'six frames of brood/at a 1:1 syrup, fed at 2:30 @9- <TEDDY>',
      'next hive @3729- <MAREN>',
    ],
    '',
  ],
  [
    'stamp-lines.txt',
    'stamped',
    ['Hive three, queen seen. @4- <Speaker 1>', 'Six frames of brood. @9- <Speaker 2>'],
    '',
  ],
  [
    'console.txt',
    'stamped',
    ['Hive three, queen seen. @0-2.4', 'Six frames of brood. @2.4-5', 'Thank you. @30-32 !sign-off'],
    '',
  ],
  [
    'srt.srt',
    'srt',
    [
      'Hive three? @1.2-3.9',
      'Hive three, queen seen. @1.2-3.9',
      'Six frames/of brood & < 10 mites @4-5.5',
      'Thank you for watching. @40-41 !sign-off',
    ],
    '',
  ],
  [
    'webvtt.vtt',
    'webvtt',
    ['Hive three queen & eggs @1.2-3.9 <Maren>', 'six frames of brood @4-5.5 <SPEAKER_01>'],
    'Hive@1.2 three@1.8 queen@2.4 eggs@2.4',
  ],
  [
    'rolling.vtt',
    'webvtt',
    ['hive three lid off @0-2', 'queen seen @2.01-4', 'queen seen again @4.01-6'],
    'hive@0 three@0.5 lid@1 off@1.5 queen@2.01 seen@2.5 queen@4.01 seen@4.6 again@5',
  ],
  [
    'rolling.srt',
    'srt',
    ['hive three lid off @0-2.01', 'queen seen @2.01-4', 'six frames of brood @4.01-6', 'no cells @6-8'],
    '',
  ],
  ['ttml.ttml', 'ttml', ['Hive three, queen & eggs @1.2-3.9 <maren>', 'six frames of brood @4.2-5.7'], ''],
  ['sbv.sbv', 'sbv', ['Hive three, queen seen @1.2-3.9', 'six frames/of brood @4-5.5'], ''],
  ['lrc.lrc', 'lrc', ['Hive three, queen seen @1.2-', 'six frames of brood @4-'], ''],
  ['whisper-table.tsv', 'whisper-table', ['Hive three, queen seen @1.2-3.9', 'six frames of brood @4-5.5'], ''],
  [
    'whisper-table.csv',
    'whisper-table',
    ['Hive three, queen "Olive" seen @1.2-3.9 <0>', 'six frames of brood @4-5.5'],
    '',
  ],
  [
    'ctm.ctm',
    'ctm',
    ['four frames of brood @1.2-2.47', 'queen seen @9-10'],
    'four@1.2:0.92 frames@1.51:0.97 of@1.95:0.88 brood@2.07:0.41 queen@9:0.81 seen@9.5:0.77',
  ],
  [
    'logs.ctm',
    'ctm',
    ['four frames of brood @1.2-2.47'],
    'four@1.2:0.905 frames@1.51:0.951 of@1.95:0.819 brood@2.07:0.407',
  ],
  ['stm.stm', 'stm', ['four frames of brood @1.2-2.47 <maren>', 'um queen seen @3-3.9 <teddy>'], ''],
  ['kaldi.txt', 'kaldi', ['four frames of brood', 'queen seen'], ''],
  ['trn.trn', 'trn', ['four frames of brood', 'queen seen'], ''],
  [
    'pocketsphinx-time.txt',
    'pocketsphinx-time',
    ['four frames of brood @0.12-1.39', 'queen seen @3.12-3.82'],
    'four@0.12:0.804 frames@0.36:1 of@0.83:0.606 brood@0.93:0.41 queen@3.12:0.904 seen@3.36:0.963',
  ],
  ['nlsml.xml', 'nlsml', ['queen seen | queen scene'], ''],
  [
    'openai-verbose.json',
    'openai-verbose',
    ['Hive three. @0-1.2', 'Four frames of brood. @1.2-3', 'Thank you for watching. @60-62 !sign-off'],
    'Hive@0.1=0.819 three@0.5=0.819 Four@1.3=0.607 frames@1.62=0.607 of@2.1=0.607 brood@2.2=0.607 Thank=0.452 you=0.452 for=0.452 watching=0.452',
  ],
  ['openai-text.json', 'openai-text', ['Four frames of brood.'], 'Four:0.951 frames:0.98 of:0.99 brood:0.69'],
  ['openai-diarized.json', 'openai-diarized', ['Queen seen, @0-1.1 <A>', 'six frames @1.2-2.4 <B>'], ''],
  ['openai-stream.txt', 'openai-stream', ['Queen seen today.', 'Six fra ~'], ''],
  [
    'whisper.json',
    'whisper',
    ['Four frames of brood. @0-2.4', '시청해 주셔서 감사합니다. @2.4-4.4 !other-script'],
    'Four@0:0.94 frames@0.42:0.98 of@0.9:0.99 brood@1.02:0.39 시청해=0.819 주셔서=0.819 감사합니다=0.819',
  ],
  [
    'faster-whisper.jsonl',
    'whisper',
    ['Four frames of brood. @0-1.6', 'Queen seen. @1.6-3'],
    'Four@0:0.94 frames@0.42:0.98 of@0.9:0.99 brood@1.02:0.39',
  ],
  ['faster-whisper-tuples.jsonl', 'whisper', ['Four frames of brood. @0-1.6', 'Queen seen. @1.6-3'], ''],
  [
    'whisperx.json',
    'whisperx',
    ['4 frames of brood. @0.03-1.61 <SPEAKER_00>', 'About 75% capped. @2-3.2 <SPEAKER_01>'],
    '4@0.42 frames@0.42:0.935 of@0.9:0.855 brood@1.02:0.775 About@2:0.8 75%@2.3 capped@2.9:0.7',
  ],
  [
    'whisper-timestamped.json',
    'whisper-timestamped',
    ['Queen seen today @0.2-1.5'],
    'Queen@0.2:0.9 seen@0.65:0.77 today@1:0.75',
  ],
  [
    'whisper-cpp.json',
    'whisper-cpp',
    ['Queen seen, brood @0-1.6 <0>', '[BLANK_AUDIO] @30-32 !no-speech'],
    'Queen@0:0.91 seen@0.5:0.88 brood@0.95:0.745',
  ],
  [
    'hugging-face.json',
    'hugging-face',
    ['Queen seen today. @0-1.4', 'Six frames @4-4.4'],
    'Queen@0 seen@0.6 today@1 Six@4 frames@4.4',
  ],
  [
    'vosk.json',
    'vosk',
    ['four frames of brew @0.06-1.59', 'the @8-8.2 !noise', 'queen seen @10.2-11 | queen scene', 'six fra ~'],
    'four@0.06:0.91 frames@0.42:1 of@0.9:0.83 brew@1.02:0.38 the@8:1 queen@10.2 seen@10.6',
  ],
  [
    'pocketsphinx.jsonl',
    'pocketsphinx',
    ['four frames of brood @0-1.57', 'queen seen @3-4'],
    'four@0.11:0.804 frames@0.35:1 of@0.82:0.606 brood@0.92:0.41 queen@3:0.804 seen@3.24:0.963',
  ],
  [
    'google.json',
    'google',
    ['four frames of brood @0.1-1.6 | for frames of brewed', 'queen seen'],
    'four@0.1:0.93 frames@0.4:0.97 of@0.9 brood@1:0.62',
  ],
  [
    'google-speakers.json',
    'google',
    ['queen seen @0-0.9 <1>', 'six frames @1.2-1.9 <2>'],
    'queen@0:0.9 seen@0.5:0.85 six@1.2:0.7 frames@1.5:0.8',
  ],
  ['google-stream.jsonl', 'google', ['queen seen @1.2-2'], 'queen@1.2 seen@1.6'],
  [
    'aws-batch.json',
    'aws-batch',
    ['Four frames of brood. @0.1-1.6 <spk_0>', 'Queen seen. @2-2.8 <spk_1>'],
    'Four@0.1:0.998 frames@0.42:0.999 of@0.9:0.99 brood@1.02:0.512|brewed Queen@2:0.9 seen@2.4:0.8',
  ],
  [
    'aws-stream.jsonl',
    'aws-stream',
    ['Queen seen today. @0.1-1 | Queen scene today.'],
    'Queen@0.1:0.97 seen@0.4:0.92 today@0.7:0.95',
  ],
  [
    'azure-batch.json',
    'azure-batch',
    ['four frames of brood @0.1-1.6 | for frames of brood'],
    'four@0.1:0.95 frames@0.4:0.97 of@0.9:0.9 brood@1:0.61',
  ],
  ['azure-fast.json', 'azure-fast', ['Queen seen today. @0.1-1.3'], 'Queen@0.1=0.86 seen@0.5=0.86 today@0.9=0.86'],
  [
    'azure-sdk.jsonl',
    'azure-sdk',
    ['two and a half frames @0.1-1.6 | to and a half frames', 'Queen seen. @10-11'],
    'two=0.87 and=0.87 a=0.87 half=0.87 frames=0.87',
  ],
  [
    'deepgram.json',
    'deepgram',
    ['4 frames of brood. @0.1-1.6 | for frames of brood'],
    '4@0.1:0.99 frames@0.42:0.99 of@0.9:0.98 brood@1.02:0.71',
  ],
  ['deepgram-live.jsonl', 'deepgram-live', ['queen seen today @0-1.4'], 'queen=0.96 seen=0.96 today=0.96'],
  [
    'assemblyai.json',
    'assemblyai',
    ['Four frames of brood. @0.1-1.6 <A>'],
    'Four@0.1:0.98 frames@0.42:0.99 of@0.9:0.99 brood@1.02:0.55',
  ],
  [
    'assemblyai-stream.jsonl',
    'assemblyai-stream',
    ['Queen seen today. @0.1-1.2'],
    'Queen@0.1:0.9 seen@0.5:0.8 today@0.9:0.9',
  ],
  ['revai.json', 'revai', ['Queen seen today. @0.1-1.3 <0>'], 'Queen@0.1:0.97 seen@0.5:0.66 today@0.9:0.93'],
  ['revai-stream.jsonl', 'revai', ['Queen seen. @0.1-0.9'], 'Queen@0.1:0.97 seen@0.5:0.66'],
  ['speechmatics.json', 'speechmatics', ['four frames. @0.1-0.9'], 'four@0.1:0.95 frames@0.42:1'],
  ['speechmatics-live.jsonl', 'speechmatics', ['queen seen @0.1-0.9'], 'queen@0.1:0.9 seen@0.6:0.8'],
  [
    'watson.json',
    'watson',
    ['four frames of brood @0.1-1.6 <0> | four frames of brewed'],
    'four@0.1:0.97 frames@0.42:0.98 of@0.9:0.95 brood@1.02:0.44|brewed',
  ],
  [
    'web-speech.json',
    'web-speech',
    ['queen seen six frames | queen scene six frames', 'of bro ~'],
    'queen=0.88 seen=0.88 six=0.88 frames=0.88',
  ],
  ['web-speech-event.json', 'web-speech', ['queen seen today | queen scene today'], 'queen=0.93 seen=0.93 today=0.93'],
  [
    'elevenlabs.json',
    'elevenlabs',
    ['Queen seen today. @0.1-1.3 <speaker_0>'],
    'Queen@0.1:0.98 seen@0.52:0.67 today@0.92:0.905',
  ],
  ['apple-memo.json', 'apple-memo', ['Queen seen today @0-1.2'], 'Queen@0 seen@0.4 today@0.8'],
  ['apple-speech.json', 'apple-speech', ['Queen seen @0.1-0.9'], 'Queen@0.1:0.9 seen@0.5|scene'],
  [
    'android.json',
    'android',
    ['four frames of brood | for frames of brewed'],
    'four=0.91 frames=0.91 of=0.91 brood=0.91',
  ],
  ['otranscribe.otr', 'otranscribe', ['hive three queen seen @4.1- <MAREN>', 'six frames & two of honey @9-'], ''],
]

describe.each(table)('%s', (file, format, segments, heard) => {
  test('format', () => expect(open(file).format).toBe(format))
  test('segments', () => expect(lines(file)).toEqual(segments))
  test('words', () => expect(words(file)).toBe(heard))
})

test('every fixture stands in the table, and every format has one', () => {
  expect(table.map(([file]) => file).toSorted()).toEqual(readdirSync(folder).toSorted())
  expect([...new Set(table.map(([, format]) => format))].toSorted()).toEqual(formats.map(({ id }) => id).toSorted())
})

test('text of plain and stamped files is the file itself; of other formats, what was said', () => {
  for (const file of ['plain.txt', 'stamped.txt', 'labelled.txt']) {
    expect(open(file).text).toBe(readFileSync(new URL(file, folder), 'utf8'))
  }
  expect(open('webvtt.vtt').text).toBe('Hive three queen & eggs\n[SPEAKER_01]: six frames of brood')
})

test('the name is the file name without folders and ending', () => {
  expect(openTranscript('queen seen', 'yard/2026-05-04 hive 3.srt').name).toBe('2026-05-04 hive 3')
  expect(openTranscript('queen seen', '-').name).toBe('-')
})
