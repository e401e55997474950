import { describe, expect, test } from 'vitest'
import { createVisit } from '../../src/live/visit.ts'
import { readNote } from '../../src/read-note.ts'
import { openTranscript } from '../../src/transcript/open.ts'

const options = { name: 'visit', date: '2026-06-10' }
/** A visit in which `lines` were heard; the answers to each. */
function heard(...lines: string[]) {
  const visit = createVisit(options)
  return { visit, answers: lines.map((line) => visit.hear(line)) }
}

describe('an answer', () => {
  test('says where we are and what was understood', () => {
    const { answers } = heard('hive two', 'five frames of brood', 'frame four, other side is half capped honey')
    expect(answers[0]).toMatchObject({ where: { hive: '2' }, moved: true, understood: [], lines: ['hive 2'] })
    expect(answers[1]!.understood).toMatchObject([{ field: 'frames.brood', value: 5, hive: '2' }])
    expect(answers[1]!.lines[0]).toMatch(/^hive 2: frames of brood 5/)
    expect(answers[2]!.where).toEqual({ hive: '2', box: null, frame: 4, side: 'B' })
  })

  test('what was put right is understood anew and not taken back', () => {
    const { answers } = heard('hive two, five frames of brood', 'no sorry, six')
    expect(answers[1]!.understood).toMatchObject([{ field: 'frames.brood', value: 6 }])
    expect(answers[1]!.takenBack).toEqual([])
  })

  test('"scratch that" takes back what was said last', () => {
    const { answers, visit } = heard('hive two', 'five frames of brood', 'scratch that')
    expect(answers[2]!.takenBack).toMatchObject([{ field: 'frames.brood', value: 5 }])
    expect(answers[2]!.isCommand).toEqual({ kind: 'scratch' })
    expect(visit.readBack()).toEqual([])
  })

  test('"no wait, that was hive three" carries over what was said since the hive was called', () => {
    const { answers, visit } = heard(
      'hive one, calm',
      'hive two',
      'five frames of brood',
      'no wait, that was hive three',
    )
    expect(answers[3]!.where.hive).toBe('3')
    expect(answers[3]!.understood).toMatchObject([{ hive: '3', field: 'frames.brood', value: 5 }])
    expect(answers[3]!.takenBack).toEqual([])
    expect(answers[3]!.lacking).toEqual([])
    expect(visit.hives()).toEqual(['1', '3'])
  })

  test('an alarm comes once, and first', () => {
    const { answers } = heard('hive one', 'sunken cappings, ropy larvae and a foul smell', 'calm bees')
    expect(answers[1]!.alarms).toHaveLength(1)
    expect(answers[1]!.lines[0]).toMatch(/^ATTENTION, hive 1: .*inspector/)
    expect(answers[2]!.alarms).toEqual([])
  })
})

test.each([
  'he got stung in the face and his tongue is swelling',
  "she can't breathe",
  'his lips are swollen, call an ambulance',
])('a person in danger is an alarm at once: %s', (words) => {
  const { answers } = heard('hive one', 'calm bees', words)
  expect(answers[2]!.lines[0]).toMatch(/^ATTENTION: Somebody may be in danger/)
})

describe('questions', () => {
  test('become no readings and stay in the transcript', () => {
    const { visit, answers } = heard(
      'hive two, saw the queen',
      'how many frames of brood did I say',
      'did I mention eggs',
    )
    expect(answers[1]!.isCommand).toEqual({ kind: 'readBack', about: 'frames of brood' })
    expect(answers[1]!.lines).toEqual(['nothing was said of frames of brood in hive 2'])
    expect(visit.record().hives[0]!.readings.map(({ field }) => field)).toEqual(['queen.seen'])
    expect(openTranscript(visit.transcript(), 'visit').text).toMatch(/did I mention eggs/)
  })

  test('are answered for the hive in hand', () => {
    const { answers } = heard(
      'hive one, saw the queen, five frames of brood',
      'what did I say about the queen',
      'read it back',
      'where are we',
    )
    expect(answers[1]!.lines).toHaveLength(1)
    expect(answers[1]!.lines[0]).toMatch(/^queen seen yes/)
    expect(answers[2]!.lines).toHaveLength(2)
    expect(answers[3]!.lines).toEqual(['hive 1'])
  })
})

describe('the hive check', () => {
  test('comes when the keeper goes on to the next hive, or closes up', () => {
    const { answers } = heard('hive one', 'calm bees, eight seams', 'next hive', 'saw the queen', 'closing up')
    expect(answers[1]!.lacking).toEqual([])
    expect(answers[2]!.lacking.map(({ hive, field }) => [hive, field])).toContainEqual(['1', 'eggs.present'])
    expect(answers[2]!.lacking.length).toBeLessThanOrEqual(3)
    expect(answers[4]!.lacking.length).toBeGreaterThan(0)
    expect(answers[4]!.lacking.every(({ hive }) => hive === '2')).toBe(true)
  })

  test('asks for nothing that was said, and for nothing that gloves or a yard file stand in the way of', () => {
    const { visit } = heard('hive one', 'saw the queen, eggs, no queen cells')
    const fields = visit.lacking().map(({ field }) => field)
    expect(fields).not.toContain('eggs.present')
    expect(fields.filter((field) => /^yard\.|moisture|mites|history|visit\./.test(field))).toEqual([])
  })
})

describe('results that change', () => {
  test('a partial one is never counted', () => {
    const visit = createVisit(options)
    visit.hearing('hive two five')
    visit.hearing('hive two five frames of brood')
    visit.hear('hive two six frames of brood')
    expect(visit.readBack()).toMatchObject([{ field: 'frames.brood', value: 6 }])
  })

  test('the last final one may be revised', () => {
    const { visit } = heard('hive two', 'for frames of brood')
    const { understood, takenBack } = visit.revise('nine frames of brood')
    expect(understood).toMatchObject([{ field: 'frames.brood', value: 9 }])
    expect(takenBack.every(({ value }) => value !== 9)).toBe(true)
    expect(visit.readBack()).toMatchObject([{ value: 9 }])
  })
})

describe('the kept transcript', () => {
  const said = [
    'hive one',
    'six frames of brood and eggs, saw the queen',
    'what is missing',
    'next hive',
    'two frames of brood',
    'no sorry, three',
  ]
  test('read as a note gives the record of the visit', () => {
    const { visit } = heard(...said)
    visit.revise('no sorry, four')
    const transcript = openTranscript(visit.transcript(), 'visit')
    expect(transcript.recordedAt).toBe('2026-06-10')
    expect(readNote(transcript, options)).toEqual(visit.record())
  })

  test('can be gone on with', () => {
    const first = heard(...said).visit
    const second = createVisit({ name: 'visit', restore: first.transcript() })
    expect(second.record()).toEqual(first.record())
    expect(second.where()).toEqual(first.where())
    expect(second.hear('calm bees').understood).toEqual(first.hear('calm bees').understood)
    expect(second.transcript()).toBe(first.transcript())
  })

  test('that broke off in the middle of an utterance loses only that one', () => {
    const stored = heard(...said).visit.transcript()
    const whole = createVisit({ name: 'visit', restore: stored.slice(0, -20) })
    expect(whole.record().hives.map(({ hive }) => hive)).toEqual(['1', '2'])
  })
})
