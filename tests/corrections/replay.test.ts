import { readdirSync, readFileSync } from 'node:fs'
import * as fc from 'fast-check'
import { expect, test } from 'vitest'
import { anchorsFor, movedFrom } from '../../src/corrections/answer.ts'
import { applyCorrections } from '../../src/corrections/apply.ts'
import { type Correction, type CorrectionBody, stamped } from '../../src/corrections/correction.ts'
import { type Placed, placedIn } from '../../src/corrections/placed.ts'
import { readNote } from '../../src/read-note.ts'
import { type InspectionRecord, recordSchema } from '../../src/record/schema.ts'
import { openTranscript } from '../../src/transcript/open.ts'

/** Notes of our own that may be looked at. */
const notes = readdirSync('fixtures/own/c')
  .filter((file) => !file.endsWith('.gold.json'))
  .map((file) => openTranscript(readFileSync(`fixtures/own/c/${file}`), file))

/** What a person may do, with numbers that pick readings and values. */
const deed = fc.record({
  kind: fc.constantFrom('confirm', 'value', 'place', 'withdraw', 'move', 'merge', 'date', 'undo'),
  which: fc.nat(1000),
  value: fc.constantFrom<string | number | [number, number]>('yes', 'no', 3, 7.5, [2, 3]),
  hive: fc.constantFrom('2', '3', 'olive', ''),
})
type Deed = { kind: string; which: number; value: string | number | [number, number]; hive: string }

/** The correction that a person makes on the record that is shown; `may` says which readings. Undefined: there is none. */
function body(
  { kind, which, value, hive }: Deed,
  record: InspectionRecord,
  text: string,
  made: readonly Correction[],
  may: (placed: Placed) => boolean,
): CorrectionBody | undefined {
  const all = placedIn(record)
  const fit = all.filter(may)
  const target = fit[which % fit.length]
  if (kind === 'date') return { kind, date: `2026-05-${String(1 + (which % 28)).padStart(2, '0')}` }
  if (kind === 'undo') return made.length > 0 ? { kind, undoes: made[which % made.length]!.id } : undefined
  if (kind === 'merge') {
    const from = record.hives[which % record.hives.length]?.hive
    return from === undefined || from === hive ? undefined : { kind, from, into: hive }
  }
  if (!target) return undefined
  if (kind === 'move') return movedFrom(record, text, target.reading.start, { hive })
  const readings = anchorsFor([target.reading.id], all, text)
  if (kind === 'confirm' || kind === 'withdraw') return { kind, readings }
  return kind === 'value' ? { kind, readings, value } : { kind: 'place', readings, to: { hive } }
}

function make(deeds: readonly Deed[], read: InspectionRecord, text: string): Correction[] {
  const made: Correction[] = []
  for (const [i, one] of deeds.entries()) {
    const shown = applyCorrections(read, made, text).record
    const what = body(one, shown, text, made, () => true)
    if (what) made.push(stamped(what, { id: `c${i}`, at: '2026-06-01T20:00:00Z', who: 'ann' }))
  }
  return made
}

const picked = fc.record({ note: fc.nat(notes.length - 1), deeds: fc.array(deed, { minLength: 1, maxLength: 8 }) })
const readings = notes.map((note) => JSON.stringify(readNote(note, { name: 'note', date: '2026-05-04' })))
/** A record of its own each time, as it comes out of a file. */
const read = (note: number): InspectionRecord => JSON.parse(readings[note]!)
const runs = { numRuns: 60, seed: 20260504 }

test('corrections, then the note read again, is the note read again, then corrections', () => {
  fc.assert(
    fc.property(picked, ({ note, deeds }) => {
      const { text } = notes[note]!
      const made = make(deeds, read(note), text)
      const then = applyCorrections(read(note), made, text)
      // Kept as JSON and read back, on a record that was kept as JSON.
      const stored = JSON.parse(JSON.stringify(made))
      const again: InspectionRecord = JSON.parse(
        JSON.stringify(readNote(notes[note]!, { name: 'note', date: '2026-05-04' })),
      )
      expect(applyCorrections(again, stored, text)).toEqual(then)
      expect(recordSchema.safeParse(then.record).error).toBeUndefined()
    }),
    runs,
  )
}, 60_000)

test('a better reader: what was put right before it came is what would be put right after', () => {
  fc.assert(
    fc.property(picked, fc.nat(200), ({ note, deeds }, nth) => {
      const { text } = notes[note]!
      const words = text.toLowerCase().match(/[a-z]{4,}/g)!
      const yard = { words: { [words[nth % words.length]!]: 'frames' } }
      const better = readNote(notes[note]!, { name: 'note', date: '2026-05-04', yard })
      const old = read(note)
      const keyOf = ({ pointer: _, ...placed }: Placed) =>
        JSON.stringify({
          ...placed,
          reading: { ...placed.reading, id: 0, features: 0, confidence: 0, flag: 0, alternatives: 0, evidence: 0 },
        })
      // A person puts right what stands in both; each reading once, so that no answer builds on another.
      const both = new Set(placedIn(better).map(keyOf))
      const used = new Set<string>()
      const before: Correction[] = []
      const after: Correction[] = []
      for (const [i, one] of deeds.entries()) {
        if (!/^(confirm|value|place|withdraw)$/.test(one.kind)) continue
        const stamp = { id: `c${i}`, at: '2026-06-01T20:00:00Z', who: 'ann' }
        const what = body(one, old, text, [], (placed) => both.has(keyOf(placed)) && !used.has(keyOf(placed)))
        if (!what || !('readings' in what)) continue
        const target = placedIn(old).find(({ pointer }) => pointer === what.readings[0]!.pointer)!
        used.add(keyOf(target))
        const there = placedIn(better).find((placed) => keyOf(placed) === keyOf(target))!
        before.push(stamped(what, stamp))
        after.push(stamped({ ...what, readings: anchorsFor([there.reading.id], placedIn(better), text) }, stamp))
      }
      const first = applyCorrections(better, before, text)
      const second = applyCorrections(better, after, text)
      expect(first.orphaned).toEqual([])
      expect(first.record).toEqual(second.record)
    }),
    runs,
  )
}, 60_000)

test('twice is once', () => {
  fc.assert(
    fc.property(picked, ({ note, deeds }) => {
      const { text } = notes[note]!
      const made = make(deeds, read(note), text)
      const once = applyCorrections(read(note), made, text)
      // The same list from two places, such as a file and a logbook.
      expect(applyCorrections(read(note), [...made, ...made], text)).toEqual(once)
      // On a record that is corrected already, where no label was given away and no stretch moved.
      if (made.some(({ kind }) => kind === 'merge' || kind === 'move')) return
      expect(applyCorrections(once.record, made, text).record).toEqual(once.record)
    }),
    runs,
  )
}, 60_000)

test('all undone is never made; the record given is never written into', () => {
  fc.assert(
    fc.property(picked, ({ note, deeds }) => {
      const { text } = notes[note]!
      const given = read(note)
      const kept = JSON.stringify(given)
      const made = make(
        deeds.filter(({ kind }) => kind !== 'undo'),
        given,
        text,
      )
      const undone = made.map(({ id }, i) =>
        stamped({ kind: 'undo', undoes: id }, { id: `u${i}`, at: '2026-06-01T20:00:00Z', who: 'ann' }),
      )
      expect(applyCorrections(given, [...made, ...undone], text).record).toEqual(given)
      expect(JSON.stringify(given)).toBe(kept)
    }),
    runs,
  )
}, 60_000)
