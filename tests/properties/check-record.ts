import { expect } from 'vitest'
import { type InspectionRecord, placedReadings, recordSchema } from '../../src/record/schema.ts'
import type { Transcript } from '../../src/transcript/transcript.ts'

/** What holds for every record of every text. */
export function checkRecord(record: InspectionRecord, { text }: Transcript): void {
  let at = 0
  for (const entry of record.account) {
    expect(entry.start, 'the account has a gap or an overlap').toBe(at)
    expect(entry.end).toBeGreaterThan(entry.start)
    at = entry.end
  }
  expect(at, 'the account ends before the text').toBe(text.length)

  const ids = new Set<string>()
  for (const { reading } of placedReadings(record)) {
    expect(ids.has(reading.id), `two readings are called ${reading.id}`).toBe(false)
    ids.add(reading.id)
    expect(reading.evidence.length, `${reading.id} has no evidence`).toBeGreaterThan(0)
    for (const piece of [reading, ...reading.evidence]) {
      expect(piece.end, `${reading.id} rests on no words`).toBeGreaterThan(piece.start)
      expect(piece.quote, reading.id).toBe(text.slice(piece.start, piece.end))
    }
    for (const { quote } of reading.alternatives) if (quote !== undefined) expect(text).toContain(quote)
  }
  for (const said of [...record.remarks, ...record.questions]) expect(said.quote).toBe(text.slice(said.start, said.end))

  const accounted = new Set(record.account.flatMap((entry) => entry.readings))
  const left = [...ids].filter((id) => !accounted.has(id))
  expect(left, 'readings that the account leaves out').toEqual([])
  const invented = [...accounted].filter((id) => !ids.has(id))
  expect(invented, 'readings that only the account knows').toEqual([])

  expect(recordSchema.parse(JSON.parse(JSON.stringify(record)))).toEqual(record)
}

/** Place, field and value of every reading: what a keeper would notice. */
export const factsOf = (record: InspectionRecord): string[] =>
  placedReadings(record)
    .map(({ hive, box, frame, reading: { side, field, value } }) =>
      JSON.stringify([hive, box, frame, side, field, value]),
    )
    .sort()
