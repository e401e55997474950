import fc from 'fast-check'
import { expect, test } from 'vitest'
import { CombscribeError } from '../../src/errors.ts'
import { english } from '../../src/grammar/english.ts'
import { readNote } from '../../src/read-note.ts'
import { openTranscript } from '../../src/transcript/open.ts'
import type { Transcript } from '../../src/transcript/transcript.ts'
import { checkRecord } from './check-record.ts'

/** Whatever is said or pasted: a record that keeps its promises, or a sentence fit for a person. */
function readAny(text: string): void {
  let transcript: Transcript
  try {
    transcript = openTranscript(text, 'note')
  } catch (error) {
    expect(error).toBeInstanceOf(CombscribeError)
    return
  }
  checkRecord(readNote(transcript, { name: 'note', date: '2026-05-20' }), transcript)
}

const runs = (numRuns: number) => ({ seed: 1, numRuns })

test.each(['grapheme', 'binary', 'grapheme-composite'] as const)(
  'strings of %s',
  (unit) => {
    fc.assert(fc.property(fc.string({ unit, maxLength: 200 }), readAny), runs(400))
  },
  60_000,
)

test('words of the grammar in any order', () => {
  const word = fc.oneof(
    { weight: 6, arbitrary: fc.constantFrom(...english().words) },
    { weight: 2, arbitrary: fc.constantFrom(...'1 2 3 10 80 % 2.5 1/2 ½ hive frame two six 3rd'.split(' ')) },
    { weight: 2, arbitrary: fc.constantFrom('.', ',', '?', '…', ' - ', '\n', '—', '!') },
  )
  fc.assert(
    fc.property(fc.array(word, { maxLength: 60 }), (words) => readAny(words.join(' '))),
    runs(500),
  )
}, 120_000)

test('what engines, editors and keyboards make of speech', () => {
  const piece = fc.constantFrom(
    ..."hive 's n't ’s ' '' ’ can't cannot gonna it's 'em x’ 12,000 1,2 .5 5. 3/0 0/0 1/2 2-3 -2 +2 1:30 9999999999999999999999 1e9 H3 4B №2 ½ ⅞ % ° & # $5 ♪ [music] <i> \ud800 \udc00 \u200b \u00a0 ﬁ İ ı ß é é 蜂 🐝 \u202e two frames of brood no sorry queen \n \t , .".split(
      ' ',
    ),
  )
  fc.assert(
    fc.property(fc.array(piece, { maxLength: 40 }), (parts) => readAny(parts.join(' '))),
    runs(1000),
  )
}, 120_000)

// Every object has these without being given them: a table of words must not take them for its own.
test.each(
  'constructor hasOwnProperty isPrototypeOf propertyIsEnumerable toLocaleString toString valueOf __proto__'.split(' '),
)('"%s" is a word like any other', (word) => {
  for (const text of [word, `two ${word}`, `${word} 5`, `on ${word} 5th`, `it's the ${word} of frame 2`]) readAny(text)
})

test.each(['no', 'six', 'frames', 'hive two', 'two or', 'and a half', 'hundred', 'the', '.', '1/2', 'queen, '])(
  '"%s" many times over',
  (word) => readAny(Array(2000).fill(word).join(' ')),
  60_000,
)
