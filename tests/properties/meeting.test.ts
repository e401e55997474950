import fc from 'fast-check'
import { expect, test } from 'vitest'
import { readNote } from '../../src/read-note.ts'
import { factsOf } from './check-record.ts'
import { notes } from './notes.ts'

/** What is said in one place leaves what was said in another alone. */
const read = (text: string, date = '2026-05-20') => readNote(text, { name: 'note', date })
/** By the lines of the grammar alone: what a clause as a whole tells leans on the talk before it. */
const byLines = (text: string) => readNote(text, { name: 'note', date: '2026-05-20', clauses: null })
const runs = (numRuns: number) => ({ seed: 1, numRuns })

/** Talk over the fence without a word of the trade. */
const chatter = [
  'Anyway the postman came late this morning.',
  'My sister rang about the boat on the lake.',
  'I could murder a cup of tea.',
  'The dog is barking at the neighbours again.',
  'The car is due for its service.',
  'Somebody left the garden gate open.',
  'It was a long film but I liked the music.',
]

// Where nothing is marked, which words call a hive hangs by how the whole note is said, chatter included.
const plain = notes.filter(({ transcript }) => transcript.format === 'plain' && /[.,]/.test(transcript.text))
/** Of so many notes with chatter so few may read otherwise: with marks too the whole note has a say in which words call a hive. */
const [CHATTER, OTHERWISE] = [80, 6]

test('chatter behind a note hardly ever changes a reading', () => {
  const talk = fc.tuple(
    fc.constantFrom(...plain),
    fc.constantFrom(' ', '\n', '\n\n'),
    fc.uniqueArray(fc.constantFrom(...chatter), { minLength: 1, maxLength: 4 }),
  )
  const changed = fc.sample(talk, runs(CHATTER)).filter(([{ transcript, date }, gap, more]) => {
    const longer = transcript.text.trimEnd() + gap + more.join(' ')
    return factsOf(read(longer, date)).join('\n') !== factsOf(read(transcript.text, date)).join('\n')
  })
  expect(changed.length, changed.map(([{ name }]) => name).join(' ')).toBeLessThanOrEqual(OTHERWISE)
}, 120_000)

/** What is said at one open hive, in no order. */
const said = [
  'Queen seen.',
  'She is marked yellow.',
  'Eggs and young larvae.',
  'Six frames of brood.',
  'Two frames of honey and one of pollen.',
  'Brood pattern is solid.',
  'No queen cells.',
  'Three queen cups.',
  'A couple of capped queen cells on frame four.',
  'They are calm.',
  'Bit defensive today.',
  'Eight seams of bees.',
  'One super on.',
  'Frame two, eighty percent capped this side. Other side about sixty.',
  'Counted four hive beetles under the lid.',
  'No sign of wax moth.',
  'Stores are low.',
  'I fed them two litres of syrup.',
  'Need to add a super next week.',
  'Some chalkbrood.',
  'Population strong.',
  'Six mites off a half cup wash.',
]

const visit = fc
  .tuple(
    fc.integer({ min: 1, max: 60 }),
    fc.constantFrom('Hive', 'Colony'),
    fc.shuffledSubarray(said, { minLength: 1, maxLength: 9 }),
  )
  .map(([hive, called, lines]) => ({ hive: String(hive), text: `${called} ${hive}. ${lines.join(' ')}` }))

test('two hives in one note read as each by itself', () => {
  fc.assert(
    fc.property(visit, visit, fc.constantFrom(' ', '\n', ' Okay. '), (one, other, gap) => {
      fc.pre(one.hive !== other.hive)
      const both = factsOf(byLines(one.text + gap + other.text))
      expect(both).toEqual([...factsOf(byLines(one.text)), ...factsOf(byLines(other.text))].sort())
    }),
    runs(300),
  )
}, 120_000)

test('and so does a row of hives', () => {
  const round = fc.uniqueArray(visit, { minLength: 3, maxLength: 6, selector: ({ hive }) => hive })
  fc.assert(
    fc.property(round, (visits) => {
      const all = factsOf(byLines(visits.map(({ text }) => text).join('\n')))
      expect(all).toEqual(visits.flatMap(({ text }) => factsOf(byLines(text))).sort())
    }),
    runs(100),
  )
}, 120_000)

test('a hive called by the number after the frame in hand', () => {
  const both = factsOf(read('Hive 1. Queen cells on frame four. Hive number 5. Eight seams of bees.'))
  expect(both).toContain(JSON.stringify(['5', null, null, null, 'seams.bees', 8]))
})
